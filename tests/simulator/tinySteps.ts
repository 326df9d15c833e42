/** Everything that can happen to the tiny case in one step, and the way out that an honest team has from anywhere. */
import type { Command } from '#engine/case/events.ts';
import { gateState, holdsOf } from '#engine/closures/holdsOf.ts';
import { at, rowOf } from '#engine/ledger.ts';
import type { Place } from '#engine/places.ts';
import type { Case } from '#engine/state.ts';
import {
  honest,
  type Node,
  piecesMost,
  piecesOf,
  recorded,
  signOut,
  type Truth,
  wholeCount,
} from './tiny.ts';

/** One step: what is recorded, and what becomes true by it. */
type Step = {
  readonly commands: readonly Command[];
  readonly truth?: Truth;
  /** Says something that is not so. */
  readonly lies?: boolean;
  /** Something moves and nobody records it. */
  readonly slips?: boolean;
  readonly counts?: boolean;
};

type Spot = 'table' | 'inside' | 'off';
const placeOf = { table: 'table', inside: 'patient/wound', off: 'off' } as const;
const spots: readonly Spot[] = ['table', 'inside', 'off'];
const both = ['surgeon', 'scrub'];

/** The truth after one piece of a line went from a spot to another, or away from the field. */
function moved(truth: Truth, line: string, from: Spot, to: Spot | undefined): Truth {
  const row = truth[line] ?? { table: 0, inside: 0, off: 0 };
  const left = { ...row, [from]: row[from] - 1 };
  return { ...truth, [line]: to ? { ...left, [to]: left[to] + 1 } : left };
}

const has = (truth: Truth, line: string, spot: Spot): boolean => (truth[line]?.[spot] ?? 0) > 0;

function movesOf({ current, truth }: Node): readonly Step[] {
  const steps: Step[] = [];
  for (const line of current.lines.keys()) {
    for (const from of spots) {
      if (!has(truth, line, from)) continue;
      for (const to of spots) {
        if (from === to) continue;
        const move = { type: 'move', line, from: placeOf[from], to: placeOf[to], n: 1 } as const;
        const next = moved(truth, line, from, to);
        steps.push({ commands: [move], truth: next });
      }
    }
  }
  return steps;
}

/** Pieces that stay, and one piece at most that is moved and not recorded. */
function quietMovesOf({ current, truth, slips }: Node): readonly Step[] {
  const steps: Step[] = [];
  // Nothing goes through a wound that is closed.
  const canSlip = slips === 0 && gateState(current, 'wound') !== 'done';
  for (const line of current.lines.keys()) {
    for (const from of spots) {
      if (!has(truth, line, from)) continue;
      const to = from === 'table' ? 'inside' : 'table';
      const slipped = moved(truth, line, from, to);
      if (from !== 'off' && canSlip) steps.push({ commands: [], truth: slipped, slips: true });
      const stays = { type: 'move', line, from: placeOf[from], to: 'stays', n: 1 } as const;
      const gone = moved(truth, line, from, undefined);
      steps.push({ commands: [stays], truth: gone });
      steps.push({ commands: [{ ...stays, reason: 'meant' }], truth: gone });
    }
    const back = { type: 'move', line, from: 'stays', to: 'table', n: 1 } as const;
    steps.push({ commands: [back], truth: arrived(truth, line, 'table', 1) });
    const isLeaving = has(truth, line, 'inside') && at(current.ledger, line, 'patient/wound') > 0;
    const explain = { type: 'explain', line, n: 1, reason: 'meant', by: both } as const;
    steps.push({
      commands: [explain],
      truth: isLeaving ? moved(truth, line, 'inside', undefined) : truth,
    });
    steps.push({ commands: [{ type: 'handover', line, to: 'ward', plan: 'day 2' }] });
  }
  return steps;
}

function arrived(truth: Truth, line: string, spot: Spot, n: number): Truth {
  const row = truth[line] ?? { table: 0, inside: 0, off: 0 };
  return { ...truth, [line]: { ...row, [spot]: row[spot] + n } };
}

/** Opens one swab more, while there is room for another piece. */
function addedTo({ current, truth }: Node): readonly Step[] {
  if (piecesOf(current) >= piecesMost) return [];
  const add: Command = { type: 'add', line: 'swab', n: 1 };
  return [{ commands: [add], truth: arrived(truth, 'swab', 'table', 1) }];
}

/** Breaks the drain, while there is room for another piece. */
function brokenOf({ current, truth }: Node): readonly Step[] {
  if (piecesOf(current) >= piecesMost) return [];
  const steps: Step[] = [];
  for (const spot of ['table', 'inside'] as const) {
    if (!has(truth, 'drain', spot)) continue;
    const rest = moved(truth, 'drain', spot, undefined);
    const into = { type: 'break', line: 'drain', at: placeOf[spot], into: 2 } as const;
    steps.push({ commands: [into], truth: arrived(rest, 'drain-fragment', spot, 2) });
  }
  return steps;
}

function countsOf(node: Node): readonly Step[] {
  const { current, truth } = node;
  const steps: Step[] = [
    { commands: wholeCount(node, 'closing'), counts: true },
    { commands: wholeCount(node, 'closing', { swab: -1 }), lies: true },
    { commands: wholeCount(node, 'closing', { swab: 1 }), lies: true },
    { commands: [{ type: 'waive', moment: 'closing', reason: 'bleeding', by: both }] },
  ];
  for (const line of Object.keys(current.differing)) {
    for (const by of [0, -1, 1]) {
      const lines = { [line]: honest(truth, line, by) };
      steps.push({ commands: [{ type: 'recount', lines }], lies: by !== 0 });
    }
    steps.push({ commands: searched(line, true) }, { commands: searched(line, false) });
    for (const from of spots) {
      const [one, n] = [placeOf[from], 1];
      steps.push({
        commands: [{ type: 'declare', line, n, from: one, reason: 'lost', by: both }],
      });
      for (const place of spots.filter((spot) => has(truth, line, spot))) {
        const found = { type: 'discrepancy', line, step: 'found', n, from: one } as const;
        steps.push({ commands: [{ ...found, place: placeOf[place] }] });
      }
    }
    const by = ['scrub', 'circulator', 'surgeon'];
    steps.push({ commands: [{ type: 'amend', line, n: 1, reason: 'not recorded', by }] });
  }
  return steps;
}

function reliefsOf(node: Node): readonly Step[] {
  return [
    { commands: wholeCount(node, 'relief') },
    { commands: [{ type: 'relief', role: 'scrub', to: otherScrub(node.current) }] },
  ];
}

const otherScrub = ({ team }: Case): string => (team.scrub === 'Testa' ? 'Nuovo' : 'Testa');

const film = { readBy: 'Sample', wholeField: true, result: 'nothing-seen' } as const;

function searched(line: string, isFilmed: boolean): readonly Command[] {
  const steps = ['surgeon-told', 'record-read', 'field-searched', 'room-searched'] as const;
  return [
    ...steps.map((step): Command => ({ type: 'discrepancy', line, step, by: 'surgeon' })),
    isFilmed
      ? { type: 'discrepancy', line, step: 'xray', ...film }
      : { type: 'discrepancy', line, step: 'xray', skip: 'unstable' },
  ];
}

const look: Command = { type: 'look', closure: 'wound', answers: { 'wound-seen': 'yes' } };
const gateSteps: readonly Step[] = [
  { commands: [look] },
  { commands: [{ type: 'close', closure: 'wound' }] },
  { commands: [{ type: 'reopen', closure: 'wound', reason: 'bleeding' }] },
];
const leavingSteps: readonly Step[] = [
  { commands: [{ type: 'xray', ...film }] },
  { commands: [{ type: 'deferXray', reason: 'unstable', by: both }] },
  { commands: signOut },
  { commands: [{ type: 'finish' }] },
];

/** What the ledger, the counts and the closure are made of: table, patient and off. */
const coreSteps = (node: Node): readonly Step[] => [
  ...movesOf(node),
  ...addedTo(node),
  ...countsOf(node),
  ...gateSteps,
];

/** The same with what stays, what breaks, what is not recorded, reliefs, films and sign out. */
const wideSteps = (node: Node): readonly Step[] => [
  ...coreSteps(node),
  ...quietMovesOf(node),
  ...brokenOf(node),
  ...reliefsOf(node),
  ...leavingSteps,
];

export type Width = 'core' | 'wide';

/** Every node that is one step away, and after each of them the one where it is taken back at once. */
export function* nextOf(node: Node, width: Width): Iterable<Node> {
  const steps = width === 'core' ? coreSteps(node) : wideSteps(node);
  for (const { commands, truth = node.truth, lies, slips, counts } of steps) {
    const current = recorded(node.current, commands);
    if (!current) continue;
    yield {
      current,
      truth,
      lied: node.lied || lies === true,
      slips: node.slips + (slips ? 1 : 0),
      isSeen: counts === true || (node.isSeen && !slips),
    };
    const back = commands.length === 1 && recorded(current, [{ type: 'correct', last: 1 }]);
    // What was written down was wrong, so nothing became true by it.
    if (back) yield { ...node, current: back };
  }
}

/** One lawful step towards the end of the case, as an honest team would take it; undefined at the end. */
export function wayOutOf({ current, truth }: Node): Step | undefined {
  if (current.finishedAt !== undefined) return undefined;
  const trouble = Object.values(current.differing)[0];
  if (current.counts.reliefDue.length > 0) {
    return { commands: wholeCount({ current, truth }, 'relief') };
  }
  if (trouble?.stage === 'discrepancy') return settling(current, truth, trouble.line);
  if (trouble) {
    const lines = { [trouble.line]: honest(truth, trouble.line) };
    return { commands: [{ type: 'recount', lines }] };
  }
  for (const line of current.lines.keys()) {
    const { inside } = rowOf(current.ledger, line);
    if ((inside[0] ?? 0) > 0) return takenOut(truth, line);
  }
  const codes = holdsOf(current, 'sign-out');
  const unexplained = codes.find((hold) => hold.code === 'stays-unexplained')?.about;
  if (unexplained !== undefined) {
    return {
      commands: [{ type: 'explain', line: unexplained, reason: 'meant', by: both }],
    };
  }
  if (codes.some((hold) => hold.code === 'count-due')) {
    return { commands: wholeCount({ current, truth }, 'closing') };
  }
  if (codes.some((hold) => hold.code === 'look-open')) return { commands: [look] };
  if (gateState(current, 'wound') !== 'done') {
    return { commands: [{ type: 'close', closure: 'wound' }] };
  }
  if (codes.some((hold) => hold.code === 'xray-owed')) {
    return { commands: [{ type: 'xray', ...film }] };
  }
  const owed = codes.find((hold) => hold.code === 'handover-open')?.about;
  if (owed !== undefined) {
    return { commands: [{ type: 'handover', line: owed, to: 'ward', plan: 'day 2' }] };
  }
  const isSigned = gateState(current, 'sign-out') === 'done';
  return { commands: isSigned ? [{ type: 'finish' }] : signOut };
}

/** Something that the record has inside comes out, or is seen to be out already. */
function takenOut(truth: Truth, line: string): Step {
  const isThere = has(truth, line, 'inside');
  return {
    commands: [{ type: 'move', line, from: 'patient/wound', to: 'table', n: 1 }],
    truth: isThere ? moved(truth, line, 'inside', 'table') : truth,
  };
}

/** Searches and declares what is short, amends what is over, and counts again. */
function settling(current: Case, truth: Truth, line: string): Step {
  const open = current.differing[line];
  const again: Command = { type: 'recount', lines: { [line]: honest(truth, line) } };
  const now = honest(truth, line).field + honest(truth, line).off;
  const places: readonly Place[] = ['table', 'patient/wound', 'off'];
  const known = places.reduce((sum, place) => sum + at(current.ledger, line, place), 0);
  // It agrees now, or not by as much as when it was counted: it is counted again before anything is said.
  if (!open || now - known !== open.difference) return { commands: [again] };
  if (open.difference > 0) {
    const n = open.difference - open.amended;
    const by = ['scrub', 'circulator', 'surgeon'];
    return { commands: [{ type: 'amend', line, n, reason: 'not recorded', by }] };
  }
  const from = places.find((place) => at(current.ledger, line, place) > 0) ?? 'table';
  const declare: Command = { type: 'declare', line, n: 1, from, reason: 'lost', by: both };
  return { commands: [...searched(line, false), declare] };
}
