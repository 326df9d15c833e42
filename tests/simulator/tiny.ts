/**
 * A case so small that everything which can happen to it can be gone through: one site, two lines, two pieces at
 * the start and never more than three. Beside what the engine records stands what is true: where the pieces are,
 * whatever was written down.
 */
import { decide } from '#engine/case/decide.ts';
import type { Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { isXrayOwed } from '#engine/discrepancies/isXrayOwed.ts';
import { introducedOf, rowOf } from '#engine/ledger.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { closure, line, sheet } from './sheets.ts';
import { contextOf, openingOf } from './walk.ts';

export const tinySheet: Sheet = sheet('tiny', {
  sites: [{ id: 'wound', name: 'wound', kind: 'wound' }],
  lines: [
    line('swab', { class: 'swab', opening: 1, cuttable: false }),
    line('drain', { opening: 1, stay: { may: 'reason', needs: ['reason'] } }),
  ],
  closures: [closure('wound', ['wound'], 'closing')],
});
export const piecesMost = 3;

/** Where the pieces of a line really are. */
export type Truth = Readonly<Record<string, { table: number; inside: number; off: number }>>;

export type Node = {
  readonly current: Case;
  readonly truth: Truth;
  /** Whether a count ever said what was not so. */
  readonly lied: boolean;
  /** Pieces that were moved and not recorded. */
  readonly slips: number;
  /** Whether a true closing count was made since the last of them. */
  readonly isSeen: boolean;
};

/** Records commands, one after another. Undefined when one of them is refused. */
export function recorded(current: Case, commands: readonly Command[]): Case | undefined {
  let next = current;
  for (const command of commands) {
    const decision = decide(next, command, contextOf(next.entry));
    if (!decision.ok) return undefined;
    next = decision.events.reduce<Case>(evolve, next);
  }
  return next;
}

function openedCase(commands: readonly Command[]): Node {
  const decision = openCase(openingOf(tinySheet), contextOf(0));
  const opened = decision.ok
    ? decision.events.reduce<Case | undefined>(evolve, undefined)
    : undefined;
  const current = opened && recorded(opened, commands);
  if (!current) throw new Error('the tiny case does not open');
  const one = { table: 1, inside: 0, off: 0 };
  return { current, truth: { swab: one, drain: one }, lied: false, slips: 0, isSeen: true };
}

const passed = (id: string): readonly Command[] => [
  { type: 'beginCheckpoint', id, present: ['circulator', 'surgeon'] },
  { type: 'answer', checkpoint: id, step: `${id}-said`, value: 'yes' },
  { type: 'finishCheckpoint', id },
];
export const signOut = passed('sign-out');

const firstCount: readonly Command[] = [
  { type: 'beginCount', moment: 'first' },
  { type: 'enter', line: 'swab', field: 1, off: 0 },
  { type: 'enter', line: 'drain', field: 1, off: 0 },
  { type: 'agree' },
];
const waived: Command = {
  type: 'waive',
  moment: 'first',
  reason: 'bleeding',
  by: ['surgeon', 'scrub'],
};
const begun = [...passed('time-out'), { type: 'incision' } as const];

/** Where it begins: after the incision, with a first count or with one that was waived. */
export const starts = (): readonly Node[] => [
  openedCase([...firstCount, ...begun]),
  openedCase([waived, ...begun]),
];

/** What two people would say of a line who see everything on the table and off it, and nothing inside. */
export const honest = (truth: Truth, id: string, by = 0) => ({
  field: Math.max(0, (truth[id]?.table ?? 0) + by),
  off: truth[id]?.off ?? 0,
});

/** Lines that a count asks for: those of which anything ever came in. */
export const countedLines = ({ lines, ledger }: Case): readonly string[] =>
  [...lines.keys()].filter((id) => {
    const row = rowOf(ledger, id);
    return row.supply !== 0 || row.changed !== 0;
  });

/** A whole count; `lies` says by how much a line is told wrongly. */
export function wholeCount(
  { current, truth }: Pick<Node, 'current' | 'truth'>,
  moment: 'closing' | 'relief',
  lies: Readonly<Record<string, number>> = {},
): readonly Command[] {
  const entries = countedLines(current).map(
    (id): Command => ({ type: 'enter', line: id, ...honest(truth, id, lies[id]) }),
  );
  return [{ type: 'beginCount', moment }, ...entries, { type: 'agree' }];
}

export const piecesOf = (current: Case): number =>
  [...current.lines.keys()].reduce((sum, id) => sum + introducedOf(current.ledger, id), 0);

/**
 * All of a node that the future depends on, as text: without times, ids and numbers of entries, of which only
 * the order matters. Taking back reads the log besides; it is only tried at once after what it takes back.
 */
export function keyOf({ current, truth, lied, slips, isSeen }: Node): string {
  const { counts, ledger } = current;
  const isFilmed = (since: number) =>
    current.xrays.some((film) => film.wholeField && film.entry > since);
  const done = (['closing', 'relief'] as const).map((moment) => {
    const count = counts.done[moment];
    return count && [count.waived, count.entry > current.agedEntry];
  });
  return JSON.stringify([
    [...current.lines.keys()].map((id) => Object.values(rowOf(ledger, id))),
    [counts.first, done, counts.reliefDue, counts.amendments.length > 0],
    counts.waivers.map(({ entry }) => isFilmed(entry)),
    Object.values(current.differing).map((one) => [
      one.line,
      one.stage,
      one.gate,
      one.difference,
      one.amended,
      one.streak,
      Object.keys(one.steps).sort(),
      isFilmed(one.entry),
    ]),
    current.settled
      .filter((one) => one.how === 'declared')
      .map(({ line: id, entry }) => [id, isFilmed(entry)])
      .sort(),
    Object.entries(current.left).map(([id, sets]) => [
      id,
      sets.map(({ n, site, reason, decidedBy }) => [n, site, reason, decidedBy?.length]),
    ]),
    current.missing.map(({ line: id, n, why }) => [id, n, why]).sort(),
    [current.deferral !== undefined, isXrayOwed(current), current.team.scrub],
    current.fragments.map(({ line: id, into }) => [id, into]).sort(),
    Object.keys(current.looks),
    current.checkpoints['sign-out']?.finishedAt !== undefined,
    Object.values(current.closures).map(({ closedAt }) => closedAt !== undefined),
    Object.keys(current.handovers).sort(),
    current.finishedAt !== undefined,
    truth,
    [lied, slips, isSeen],
  ]);
}
