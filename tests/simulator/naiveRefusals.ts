/**
 * Why a command is refused. Every rule that says no is written down; the first of them in the order of the
 * table of refusals is the answer. Checkpoints, specimens and notes are judged only where the ledger, the counts
 * or the closures need them: `undefined` from `isJudged` means that the model takes the program's word.
 */
import type { Command } from '#engine/case/events.ts';
import { type RefusalCode, refusals } from '#engine/refusals.ts';
import { explainable, losable } from './naiveApply.ts';
import { gateStateOf } from './naiveHolds.ts';
import {
  balanceOf,
  closureOf,
  isInside,
  isSiteClosed,
  isXrayOwed,
  lengthsDiffer,
  personOf,
  placeOf,
  siteIn,
  type World,
} from './naiveWorld.ts';

const isQuantity = (n: number | undefined): boolean =>
  n !== undefined && Number.isInteger(n) && n >= 1 && n <= 999;
const isSeen = (n: number | undefined): boolean =>
  n !== undefined && Number.isInteger(n) && n >= 0 && n <= 999;
const isSaid = (words: string | undefined): boolean => (words ?? '').trim().length > 0;
const isTooLong = (words: string | undefined): boolean => (words ?? '').length > 500;

const order = Object.keys(refusals);
const firstOf = (codes: readonly RefusalCode[]): RefusalCode | undefined =>
  [...codes].sort((one, other) => order.indexOf(one) - order.indexOf(other))[0];

type Say = (isSo: boolean, code: RefusalCode) => void;

/** Something is put at this place: what stands in the way. */
function wayIn(world: World, place: string | undefined, say: Say): void {
  if (!place || !isInside(place)) return;
  const site = siteIn(place);
  const kind = world.sheet.sites.find((one) => one.id === site)?.kind;
  say(!world.incised && kind !== 'orifice', 'before-incision');
  say(isSiteClosed(world, site), 'site-closed');
}

function ledgerSays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'add': {
      const line = world.lines.get(command.line);
      say(!line, 'unknown-line');
      if (line?.pack) say(!command.packs || command.packs.length === 0, 'packs-needed');
      else say(!isQuantity(command.n), 'not-a-quantity');
      for (const pack of command.packs ?? []) say(!isQuantity(pack), 'not-a-quantity');
      say(world.first === 'open', 'baseline-open');
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'move': {
      const from = placeOf(world.sheet, command.from);
      const to = placeOf(world.sheet, command.to);
      say(!world.lines.has(command.line), 'unknown-line');
      say(!from || !to, 'unknown-place');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(isTooLong(command.reason), 'too-long');
      say(to === 'away' && !isSaid(command.with), 'name-missing');
      say(from === to, 'same-place');
      const contra = ['supply', 'changed', 'missing'];
      say(contra.includes(from ?? '') || contra.includes(to ?? ''), 'not-a-move');
      wayIn(world, to, say);
      say(balanceOf(world, command.line, from ?? '') < command.n, 'not-enough');
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'turn': {
      const line = world.lines.get(command.line);
      const turn = line?.turns.find((one) => one.id === command.turn);
      const place = placeOf(world.sheet, command.at);
      say(!line, 'unknown-line');
      say(!turn, 'unknown-turn');
      say(!place, 'unknown-place');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(turn?.asks !== undefined && !isQuantity(command.into), 'not-a-quantity');
      say(turn?.at === 'patient' && !isInside(place ?? ''), 'wrong-place');
      say(turn?.at === 'table' && place !== 'table', 'wrong-place');
      say(balanceOf(world, command.line, place ?? '') < command.n, 'not-enough');
      if (turn?.gives.some((one) => one.place === 'patient') && !isInside(place ?? '')) {
        wayIn(world, `patient/${world.sheet.sites[0]?.id}`, say);
      }
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'break': {
      const line = world.lines.get(command.line);
      const place = placeOf(world.sheet, command.at);
      say(!line, 'unknown-line');
      say(!place, 'unknown-place');
      say(!isQuantity(command.into), 'not-a-quantity');
      say(line?.cuttable === false, 'not-cuttable');
      say(balanceOf(world, command.line, place ?? '') < 1, 'not-enough');
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'carriedIn':
      say(!world.lines.has(command.line), 'unknown-line');
      say(!world.sheet.sites.some((site) => site.id === command.site), 'unknown-site');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(isSiteClosed(world, command.site ?? ''), 'site-closed');
      say(world.running !== undefined, 'count-running');
      return;
    case 'searchedNone':
      say(!world.lines.has(command.line), 'unknown-line');
      say(!world.sheet.sites.some((site) => site.id === command.site), 'unknown-site');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(!isSaid(command.reason), 'reason-missing');
      say(personOf(world, command.by ?? '') !== world.team.surgeon, 'surgeon-missing');
      say(balanceOf(world, command.line, `patient/${command.site}`) < command.n, 'not-enough');
      say(
        world.carried.some((one) => one.line === command.line && one.from === 'earlier-operation'),
        'earlier-operation',
      );
      say(world.running !== undefined, 'count-running');
      return;
    case 'explain':
      return explainSays(world, command, say);
    default:
      return;
  }
}

function explainSays(world: World, command: Command & { type: 'explain' }, say: Say): void {
  const line = world.lines.get(command.line);
  say(!line, 'unknown-line');
  say(command.n !== undefined && !isQuantity(command.n), 'not-a-quantity');
  const about = explainable(world, command.line, command.site);
  const hasLengths = world.fragments.some((one) => one.line === command.line && lengthsDiffer(one));
  if (line?.stay.may === 'no') {
    say(!isSaid(command.reason), 'reason-missing');
    say(!hasSurgeonAndOther(world, command.by), 'surgeon-missing');
  }
  say(about.length < (command.n ?? 1) && !hasLengths, 'not-enough');
  say(world.running !== undefined, 'count-running');
}

const peopleOf = (world: World, by: readonly string[] | undefined): readonly string[] => [
  ...new Set((by ?? []).map((words) => personOf(world, words)).filter(Boolean)),
];
const hasSurgeonAndOther = (world: World, by: readonly string[] | undefined): boolean =>
  peopleOf(world, by).includes(world.team.surgeon) && peopleOf(world, by).length >= 2;

/** Two people, the scrub and the circulator of now, unless others are named; never one in both roles. */
function twoSay(world: World, by: readonly string[] | undefined, say: Say): void {
  if (!by) return;
  const people = peopleOf(world, by);
  say(by.length >= 2 && people.length < 2, 'same-person');
  say(people.length < 2, 'two-people');
}

function countSays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'beginCount': {
      const { moment } = command;
      say(!world.sheet.moments.some((one) => one.id === moment), 'unknown-moment');
      const scrub = personOf(world, command.scrub ?? 'scrub');
      const circulator = personOf(world, command.circulator ?? 'circulator');
      say(scrub === circulator, 'same-person');
      say(moment !== 'first' && world.first === 'open', 'baseline-open');
      say(world.running !== undefined, 'count-running');
      say(moment === 'first' && world.first === 'agreed', 'already-counted');
      say(moment === 'first' && world.first === 'waived', 'count-waived');
      say(moment === 'added', 'nothing-to-count');
      say(moment === 'relief' && world.reliefDue.size === 0, 'no-relief');
      return;
    }
    case 'enter': {
      const line = world.lines.get(command.line);
      say(!line, 'unknown-line');
      say(!world.running, 'no-count');
      say(world.running?.lines.includes(command.line) === false, 'not-in-count');
      if (command.packs) {
        for (const pack of command.packs) say(!isSeen(pack), 'not-a-count');
      } else {
        say(world.running?.moment === 'first' && line?.pack !== undefined, 'packs-needed');
        say(!isSeen(command.field), 'not-a-count');
      }
      say(command.off !== undefined && !isSeen(command.off), 'not-a-count');
      return;
    }
    case 'agree':
      say(!world.running, 'no-count');
      twoSay(world, command.by, say);
      say(
        world.running?.lines.some((line) => !world.running?.found.has(line)) ?? false,
        'lines-open',
      );
      return;
    case 'abandon':
      say(!world.running, 'no-count');
      say(!isSaid(command.reason), 'reason-missing');
      return;
    case 'recount':
      for (const [line, seen] of Object.entries(command.lines)) {
        say(!world.lines.has(line), 'unknown-line');
        say(!isSeen(seen.field) || !isSeen(seen.off), 'not-a-count');
        say(!world.troubles.has(line), 'not-differing');
      }
      twoSay(world, command.by, say);
      say(world.running !== undefined, 'count-running');
      return;
    case 'relief': {
      say(!(command.role in world.team), 'unknown-role');
      say(!isSaid(command.to), 'name-missing');
      const others = { scrub: 'circulator', circulator: 'scrub' } as const;
      const isCounting = command.role === 'scrub' || command.role === 'circulator';
      if (isCounting) say(world.team[others[command.role]] === command.to, 'same-person');
      return;
    }
    case 'waive':
      say(!world.sheet.moments.some((one) => one.id === command.moment), 'unknown-moment');
      say(!isSaid(command.reason), 'reason-missing');
      say(!hasSurgeonAndOther(world, command.by), 'surgeon-missing');
      say(command.moment !== 'first' && world.first === 'open', 'baseline-open');
      say(world.running !== undefined, 'count-running');
      say(command.moment === 'first' && world.first === 'agreed', 'already-counted');
      say(command.moment === 'first' && world.first === 'waived', 'count-waived');
      return;
    default:
      return;
  }
}

/** Where a lost piece is taken from: named, or the only place there is. */
function fromSays(
  world: World,
  line: string,
  words: string | undefined,
  n: number,
  say: Say,
): void {
  const places = losable(world, line);
  const from = words === undefined ? places[0] : placeOf(world.sheet, words);
  say(words !== undefined && !from, 'unknown-place');
  say(words === undefined && places.length > 1, 'which-place');
  say(balanceOf(world, line, from ?? '') < n, 'not-enough');
}

function discrepancySays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'discrepancy': {
      const trouble = world.troubles.get(command.line);
      say(!world.lines.has(command.line), 'unknown-line');
      say(trouble?.stage !== 'discrepancy', 'no-discrepancy');
      if (command.step !== 'found') {
        say(command.skip !== undefined && !isSaid(command.skip), 'reason-missing');
        if (command.step === 'xray' && command.skip === undefined) {
          say(!isSaid(command.readBy), 'name-missing');
        }
        return;
      }
      const place = placeOf(world.sheet, command.place ?? '');
      say(!place, 'unknown-place');
      say(!isQuantity(command.n ?? 1), 'not-a-quantity');
      say((trouble?.difference ?? 0) > 0, 'discrepancy-over');
      fromSays(world, command.line, command.from, command.n ?? 1, say);
      const from = command.from ? placeOf(world.sheet, command.from) : undefined;
      say(from !== undefined && from === place, 'same-place');
      wayIn(world, place, say);
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'declare': {
      const trouble = world.troubles.get(command.line);
      say(!world.lines.has(command.line), 'unknown-line');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(!isSaid(command.reason), 'reason-missing');
      say(!hasSurgeonAndOther(world, command.by), 'surgeon-missing');
      say(trouble?.stage !== 'discrepancy', 'no-discrepancy');
      say((trouble?.difference ?? 0) > 0, 'discrepancy-over');
      say((trouble?.steps.size ?? 0) < 5, 'steps-open');
      fromSays(world, command.line, command.from, command.n, say);
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'amend': {
      const trouble = world.troubles.get(command.line);
      const people = peopleOf(world, command.by);
      const { scrub, circulator, surgeon } = world.team;
      say(!world.lines.has(command.line), 'unknown-line');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(!isSaid(command.reason), 'reason-missing');
      say(!people.includes(scrub) || !people.includes(circulator), 'two-people');
      say(!people.includes(surgeon), 'surgeon-missing');
      say(trouble?.stage !== 'discrepancy', 'no-discrepancy');
      say((trouble?.difference ?? 0) < 0, 'discrepancy-short');
      say(world.running !== undefined, 'count-running');
      return;
    }
    case 'xray':
      say(!isSaid(command.readBy), 'name-missing');
      return;
    case 'deferXray':
      say(!isSaid(command.reason), 'reason-missing');
      say(!hasSurgeonAndOther(world, command.by), 'surgeon-missing');
      say(!isXrayOwed(world), 'no-xray-owed');
      return;
    default:
      return;
  }
}

function closureSays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'incision':
      say(world.incised, 'already-done');
      say(
        world.sheet.checkpoints.some(
          (one) => one.before === 'incision' && !world.finished.has(one.id),
        ),
        'checkpoint-open',
      );
      return;
    case 'look':
      say(!closureOf(world, command.closure), 'unknown-closure');
      say(world.closed.has(command.closure), 'already-closed');
      for (const step of Object.keys(command.answers)) {
        const closure = closureOf(world, command.closure);
        say(closure?.look.some((one) => one.id === step) === false, 'unknown-step');
      }
      return;
    case 'close':
      say(!closureOf(world, command.closure), 'unknown-closure');
      say(world.closed.has(command.closure), 'already-closed');
      say(gateStateOf(world, command.closure) === 'held', 'held');
      return;
    case 'reopen':
      say(!closureOf(world, command.closure), 'unknown-closure');
      say(!isSaid(command.reason), 'reason-missing');
      say(!world.closed.has(command.closure), 'not-closed');
      return;
    case 'finish':
      say(gateStateOf(world, 'sign-out') === 'held', 'held');
      return;
    default:
      return;
  }
}

/** Commands that the model judges by itself. Of the others it keeps only what they do. */
export const isJudged = (command: Command): boolean =>
  !['beginCheckpoint', 'answer', 'finishCheckpoint', 'reopenCheckpoint', 'specimen'].includes(
    command.type,
  ) && !['dose', 'note', 'weigh', 'fluid', 'handover', 'variant'].includes(command.type);

/** Why this command is refused; nothing where it is accepted. Corrections are judged in `naiveModel.ts`. */
export function refusalOf(world: World, command: Command): RefusalCode | undefined {
  const codes: RefusalCode[] = [];
  const say: Say = (isSo, code) => {
    if (isSo) codes.push(code);
  };
  say(world.ended && command.type !== 'xray', 'case-finished');
  ledgerSays(world, command, say);
  countSays(world, command, say);
  discrepancySays(world, command, say);
  closureSays(world, command, say);
  return firstOf(codes);
}
