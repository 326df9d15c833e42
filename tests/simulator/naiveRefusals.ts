/**
 * Why a command is refused. Every rule that says no is written down; the first of them in the order of the
 * table of refusals is the answer. Checkpoints, specimens and notes are judged only where the ledger, the counts
 * or the closures need them: `undefined` from `isJudged` means that the model takes the program's word.
 */
import type { Command } from '#engine/case/events.ts';
import { type RefusalCode, refusals } from '#engine/refusals.ts';
import { explainable, losable } from './naiveApply.ts';
import { holdCodes } from './naiveHolds.ts';
import {
  balanceOf,
  closureOf,
  isInside,
  isSiteClosed,
  isXrayOwed,
  lengthsDiffer,
  personOf,
  piecesAt,
  placeOf,
  siteIn,
  type World,
} from './naiveWorld.ts';

const isQuantity = (n: number | undefined): boolean =>
  n !== undefined && Number.isInteger(n) && n >= 1 && n <= 999;
const isSeen = (n: number | undefined): boolean =>
  n !== undefined && Number.isInteger(n) && n >= 0 && n <= 999;
const isSaid = (words: string | undefined): boolean => (words ?? '').trim().length > 0;
/** Between its quotation marks. */
const isTooLong = (quoted: string): boolean => quoted.length - 2 > 500;

const order = Object.keys(refusals);
const firstOf = (codes: readonly RefusalCode[]): RefusalCode | undefined =>
  [...codes].sort((one, other) => order.indexOf(one) - order.indexOf(other))[0];

type Say = (isSo: boolean, code: RefusalCode) => void;

/** On the table, in the patient or counted off: where things are handled. */
const isInTheField = (place: string | undefined): boolean =>
  place === 'table' || place === 'off' || isInside(place ?? '');

/** Something is put at this place: what stands in the way. */
function wayIn(world: World, place: string | undefined, say: Say): void {
  if (!place || !isInside(place)) return;
  const site = siteIn(place);
  const kind = world.sheet.sites.find((one) => one.id === site)?.kind;
  say(!world.incised && kind !== 'orifice', 'before-incision');
  say(isSiteClosed(world, site), 'site-closed');
}

/** What stays is in the patient: it gets there by some site that is open. */
function anyWayIn(world: World, say: Say): void {
  const entered = world.sheet.sites.filter((site) => world.incised || site.kind === 'orifice');
  say(entered.length === 0, 'before-incision');
  say(entered.length > 0 && entered.every((site) => isSiteClosed(world, site.id)), 'site-closed');
}

function ledgerSays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'add': {
      const line = world.lines.get(command.line);
      say(!line, 'unknown-line');
      say(!command.packs && !isQuantity(command.n), 'not-a-quantity');
      const isWhole = line?.pack === undefined || (command.n ?? 0) % line.pack === 0;
      say(!command.packs && !isWhole, 'packs-needed');
      for (const pack of command.packs ?? []) say(!isQuantity(pack), 'not-a-quantity');
      const trouble = world.troubles.get(command.line);
      const isOver = trouble?.stage === 'discrepancy' && trouble.difference > trouble.amended;
      say(isOver, 'discrepancy-over');
      say(world.first === 'open', 'baseline-open');
      return;
    }
    case 'move': {
      const from = placeOf(world.sheet, command.from);
      const to = placeOf(world.sheet, command.to);
      say(!world.lines.has(command.line), 'unknown-line');
      say(!from || !to, 'unknown-place');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(to === 'away' && !isSaid(command.with), 'name-missing');
      say(from === to, 'same-place');
      const contra = ['supply', 'changed', 'missing'];
      say(contra.includes(from ?? '') || contra.includes(to ?? ''), 'not-a-move');
      if (to === 'specimen') {
        const line = world.lines.get(command.line);
        say(line !== undefined && line.class !== 'small' && !line.startsIn, 'not-with-specimen');
        const out = [...world.specimens.values()].map((one) => one.stage);
        say(!out.some((stage) => stage !== 'planned' && stage !== 'notTaken'), 'not-taken-yet');
      }
      wayIn(world, to, say);
      if (to === 'stays' && !isInside(from ?? '')) anyWayIn(world, say);
      say(balanceOf(world, command.line, from ?? '') < command.n, 'not-enough');
      return;
    }
    case 'turn': {
      const line = world.lines.get(command.line);
      const turn = line?.turns.find((one) => one.id === command.turn);
      const place = placeOf(world.sheet, command.at);
      say(!line, 'unknown-line');
      say(!turn && line?.cuttable === false, 'not-cuttable');
      say(!turn, 'unknown-turn');
      say(!place, 'unknown-place');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(turn?.asks !== undefined && !isQuantity(command.into), 'not-a-quantity');
      say(turn?.at === 'patient' && !isInside(place ?? ''), 'wrong-place');
      say(turn?.at === 'table' && place !== 'table', 'wrong-place');
      say(!isInTheField(place), 'wrong-place');
      say(isInside(place ?? '') && isSiteClosed(world, siteIn(place ?? '')), 'site-closed');
      say(balanceOf(world, command.line, place ?? '') < command.n, 'not-enough');
      const enters = turn?.gives.some((one) => one.place === 'patient' || one.place === 'stays');
      if (enters && !isInside(place ?? '')) anyWayIn(world, say);
      return;
    }
    case 'break': {
      const line = world.lines.get(command.line);
      const place = placeOf(world.sheet, command.at);
      say(!line, 'unknown-line');
      say(!place, 'unknown-place');
      say(!isQuantity(command.into) || command.into < 2, 'not-a-quantity');
      say(line?.cuttable === false, 'not-cuttable');
      say(!isInTheField(place), 'wrong-place');
      say(balanceOf(world, command.line, place ?? '') < 1, 'not-enough');
      return;
    }
    case 'carriedIn':
      say(!world.lines.has(command.line), 'unknown-line');
      say(!world.sheet.sites.some((site) => site.id === command.site), 'unknown-site');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(isSiteClosed(world, command.site ?? ''), 'site-closed');
      return;
    case 'searchedNone':
      say(!world.lines.has(command.line), 'unknown-line');
      say(!world.sheet.sites.some((site) => site.id === command.site), 'unknown-site');
      say(!isQuantity(command.n), 'not-a-quantity');
      say(!isSaid(command.reason), 'reason-missing');
      say(personOf(world, command.by ?? '') !== world.team.surgeon, 'surgeon-missing');
      say(claimedOf(world, command.line) === 0, 'not-carried-in');
      say(claimedOf(world, command.line) < command.n, 'not-enough');
      say(balanceOf(world, command.line, `patient/${command.site}`) < command.n, 'not-enough');
      say(
        world.carried.some((one) => one.line === command.line && one.from === 'earlier-operation'),
        'earlier-operation',
      );
      return;
    case 'explain':
      explainSays(world, command, say);
      return;
    default:
      return;
  }
}

/** Pieces thought to have started in the patient, less those that a search showed not to be there. */
const claimedOf = (world: World, line: string): number =>
  world.carried.filter((one) => one.line === line).reduce((sum, one) => sum + one.n, 0) -
  piecesAt(world, line, 'missing').filter((piece) => piece.why === 'searched-none').length;

function explainSays(world: World, command: Command & { type: 'explain' }, say: Say): void {
  const line = world.lines.get(command.line);
  const { reason, where, lot } = command;
  say(!line, 'unknown-line');
  say(command.n !== undefined && !isQuantity(command.n), 'not-a-quantity');
  say(!isSaid(reason) && !isSaid(where) && !isSaid(lot), 'reason-missing');
  if (line?.stay.may === 'no') {
    say(!isSaid(reason), 'reason-missing');
    say(!hasSurgeonAndOther(world, command.by), 'surgeon-missing');
  }
  const { about, isInside: leaves } = explainable(world, command.line, command.site);
  if (leaves) {
    say(new Set(about.map((piece) => piece.place)).size > 1, 'which-place');
    say(about.length < (command.n ?? 1), 'not-enough');
    return;
  }
  const isAboutLengths = world.fragments.some(
    (one) => one.line === command.line && lengthsDiffer(one),
  );
  const isSaidAgain = piecesAt(world, command.line, 'stays').length > 0;
  say(about.length === 0 && !isAboutLengths && !isSaidAgain, 'not-enough');
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
  say(people.length < 2, 'two-people');
}

/** First, added, relief and extra counts can be made on every sheet; the others are those that it names. */
const hasMoment = (world: World, moment: string): boolean =>
  ['first', 'added', 'relief', 'extra'].includes(moment) ||
  world.sheet.moments.some((one) => one.id === moment);

function countSays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'beginCount': {
      const { moment } = command;
      say(!hasMoment(world, moment), 'unknown-moment');
      const scrub = personOf(world, command.scrub ?? 'scrub');
      const circulator = personOf(world, command.circulator ?? 'circulator');
      say(scrub === circulator, 'same-person');
      const pair = [world.team.scrub, world.team.circulator];
      say(
        moment === 'relief' && !pair.every((one) => [scrub, circulator].includes(one)),
        'two-people',
      );
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
      say(!world.running, 'no-count');
      say(!line, 'unknown-line');
      say(line?.counted === false, 'not-in-count');
      for (const pack of command.packs ?? []) say(!isSeen(pack), 'not-a-count');
      if (!command.packs) say(!isSeen(command.field ?? 0), 'not-a-count');
      say(!isSeen(command.off ?? 0), 'not-a-count');
      return;
    }
    case 'agree':
      say(!world.running, 'no-count');
      twoSay(world, command.by, say);
      if (command.by && world.running) {
        const people = peopleOf(world, command.by);
        say(!people.includes(world.running.scrub), 'two-people');
        say(!people.includes(world.running.circulator), 'two-people');
      }
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
      say(world.team[command.role] === command.to, 'same-person');
      const isCounting = command.role === 'scrub' || command.role === 'circulator';
      if (isCounting) say(world.team[others[command.role]] === command.to, 'same-person');
      return;
    }
    case 'waive':
      say(!hasMoment(world, command.moment), 'unknown-moment');
      // Nobody owes an extra count, and what was opened can always be counted in.
      say(command.moment === 'added' || command.moment === 'extra', 'unknown-moment');
      say(command.moment === 'relief' && world.reliefDue.size === 0, 'no-relief');
      say(!isSaid(command.reason), 'reason-missing');
      say(!hasSurgeonAndOther(world, command.by), 'surgeon-missing');
      say(command.moment !== 'first' && world.first === 'open', 'baseline-open');
      say(command.moment === 'first' && world.first === 'agreed', 'already-counted');
      say(command.moment === 'first' && world.first === 'waived', 'count-waived');
      return;
    default:
      return;
  }
}

/** Where a lost piece is taken from: named, or the only place there is. */
function fromSays(world: World, line: string, words: string | undefined, n: number, say: Say) {
  const places = losable(world, line);
  const from = words === undefined ? places[0] : placeOf(world.sheet, words);
  say(words !== undefined && !from, 'unknown-place');
  say(words === undefined && places.length > 1, 'which-place');
  say(words !== undefined && from !== undefined && !isInTheField(from), 'not-a-move');
  say(balanceOf(world, line, from ?? '') < n, 'not-enough');
}

/** A piece that was declared missing turns up, or one that a discrepancy is about. */
function foundSays(world: World, command: Command & { type: 'discrepancy' }, say: Say): void {
  const trouble = world.troubles.get(command.line);
  const missing = balanceOf(world, command.line, 'missing');
  const n = command.n ?? 1;
  const place = placeOf(world.sheet, command.place ?? '');
  say(!isQuantity(n), 'not-a-quantity');
  say(trouble?.stage !== 'discrepancy' && missing === 0, 'no-discrepancy');
  say(trouble?.stage === 'discrepancy' && trouble.difference > 0, 'discrepancy-over');
  say(!place, 'unknown-place');
  say(place !== undefined && !isInTheField(place), 'not-a-move');
  wayIn(world, place, say);
  if (command.from === 'missing' || (!trouble && !command.from)) say(missing < n, 'not-enough');
  else fromSays(world, command.line, command.from, n, say);
}

function discrepancySays(world: World, command: Command, say: Say): void {
  switch (command.type) {
    case 'discrepancy': {
      const trouble = world.troubles.get(command.line);
      say(!world.lines.has(command.line), 'unknown-line');
      if (command.step === 'found') {
        foundSays(world, command, say);
        return;
      }
      say(trouble?.stage !== 'discrepancy', 'no-discrepancy');
      if (command.step === 'xray' && !isSaid(command.skip)) {
        say(!isSaid(command.readBy), 'name-missing');
      }
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
      say(-(trouble?.difference ?? 0) < command.n, 'not-enough');
      fromSays(world, command.line, command.from, command.n, say);
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
      say((trouble?.difference ?? 0) - (trouble?.amended ?? 0) < command.n, 'not-enough');
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
      say(holdCodes(world, command.closure).length > 0, 'held');
      return;
    case 'reopen':
      say(!closureOf(world, command.closure), 'unknown-closure');
      say(!isSaid(command.reason), 'reason-missing');
      say(!world.closed.has(command.closure), 'not-closed');
      return;
    case 'finish':
      say(holdCodes(world, 'sign-out').length > 0, 'held');
      say(!world.closed.has('sign-out'), 'checkpoint-open');
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
  const isLate = command.type === 'xray' || ('step' in command && command.step === 'found');
  say(world.ended && !isLate, 'case-finished');
  const texts = JSON.stringify(command).match(/"[^"]*"/g) ?? [];
  say(texts.some(isTooLong), 'too-long');
  ledgerSays(world, command, say);
  countSays(world, command, say);
  discrepancySays(world, command, say);
  closureSays(world, command, say);
  return firstOf(codes);
}
