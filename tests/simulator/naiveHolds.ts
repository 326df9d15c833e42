/** What holds each gate, found by looking at every piece again. */
import type { HoldCode } from '#engine/closures/holds.ts';
import type { Closure, Line } from '#engine/sheet.ts';
import {
  balanceOf,
  gatesOf,
  isExplained,
  isInside,
  isXrayOwed,
  lengthsDiffer,
  siteIn,
  type World,
} from './naiveWorld.ts';

/** A hold and the gate that it holds first; it holds every later gate too. */
type Held = { readonly code: HoldCode; readonly first: string };

/** The gate of a site: the first closure that closes it, or else sign-out. */
const gateOfSite = (world: World, site: string | undefined): string =>
  world.sheet.closures.find((one) => site !== undefined && one.sites.includes(site))?.id ??
  'sign-out';

/** What has no site of its own (a thing on the table) is settled before the first gate still open. */
const firstOpenGate = (world: World): string =>
  gatesOf(world).find((gate) => !world.closed.has(gate)) ?? 'sign-out';

function pieceHolds(world: World): readonly Held[] {
  const held: Held[] = [];
  const fragments = new Set(world.fragments.map((one) => one.line));
  for (const piece of world.pieces) {
    if (isInside(piece.place) && fragments.has(piece.line)) {
      held.push({ code: 'fragment-open', first: gateOfSite(world, siteIn(piece.place)) });
    }
    if (piece.place === 'stays' && !isExplained(world.lines.get(piece.line), piece)) {
      const site = piece.said?.site;
      const first = site === undefined ? firstOpenGate(world) : gateOfSite(world, site);
      held.push({ code: 'stays-unexplained', first });
    }
  }
  for (const one of world.fragments) {
    if (!lengthsDiffer(one)) continue;
    // The rest may be anywhere.
    held.push({ code: 'fragment-open', first: firstOpenGate(world) });
  }
  return held;
}

/** Pieces inside that are not in use there. What is in use for one closure may not be for the next. */
function insideHolds(world: World): readonly Held[] {
  const held: Held[] = [];
  const gates = gatesOf(world);
  const fragments = new Set(world.fragments.map((one) => one.line));
  for (const piece of world.pieces) {
    if (!isInside(piece.place) || fragments.has(piece.line)) continue;
    const own = gates.indexOf(gateOfSite(world, siteIn(piece.place)));
    const first = gates.slice(own).find((gate) => !inUseAt(world, gate).includes(piece.line));
    held.push({ code: 'piece-inside', first: first ?? 'sign-out' });
  }
  return held;
}

const inUseAt = (world: World, gate: string): readonly string[] =>
  world.sheet.closures.find((one) => one.id === gate)?.inUse ?? [];

/** The count of this moment was done after everything that makes counts stale. */
function isFresh(world: World, closure: Closure): boolean {
  const done = world.done.get(closure.count);
  return done !== undefined && (done.waived || done.entry > world.aged);
}

function isLooked(world: World, closure: Closure): boolean {
  const look = world.looks.get(closure.id);
  if (closure.look.length === 0) return true;
  if (!look || look.entry < world.insideChanged) return false;
  return closure.look.every((step) => {
    const answer = look.answers.get(step.id);
    return answer !== undefined && !step.stopOn.includes(answer);
  });
}

function closureHolds(world: World): readonly Held[] {
  const held: Held[] = [];
  const gates = gatesOf(world);
  // The last count must still stand when the patient leaves.
  const last = world.sheet.closures.at(-1);
  if (last && !isFresh(world, last)) held.push({ code: 'count-due', first: 'sign-out' });
  for (const closure of world.sheet.closures) {
    if (world.closed.has(closure.id)) continue;
    const first = closure.id;
    if (!isFresh(world, closure)) held.push({ code: 'count-due', first });
    if (!isLooked(world, closure)) held.push({ code: 'look-open', first });
    const next = gates[gates.indexOf(first) + 1];
    if (next) held.push({ code: 'closure-order', first: next });
  }
  return held;
}

function specimenHolds(world: World): readonly Held[] {
  const held: Held[] = [];
  const last = world.sheet.closures.at(-1)?.id ?? 'sign-out';
  for (const { stage, site, whole, part } of world.specimens.values()) {
    if (stage === 'notTaken') continue;
    const isOut = stage !== 'planned' && (whole || part);
    if (!isOut) held.push({ code: 'specimen-inside', first: gateOfSite(world, site) });
    else if (stage === 'taken' || stage === 'contained') {
      held.push({ code: 'specimen-unlabelled', first: last });
    } else if (stage === 'labelled') held.push({ code: 'specimen-unread', first: last });
    else if (stage === 'readBack') held.push({ code: 'specimen-here', first: 'sign-out' });
  }
  return held;
}

/** Packing, a drain, a part left by decision; not a knot or a clip, nor an implant that needs its lot only. */
const staysForAReason = (line: Line | undefined): boolean =>
  line?.stay.may === 'no' || (line?.stay.may === 'reason' && line.stay.needs.includes('reason'));

function caseHolds(world: World): readonly Held[] {
  const held: Held[] = [];
  const firstGate = gatesOf(world)[0] ?? 'sign-out';
  for (const checkpoint of world.sheet.checkpoints) {
    if (world.finished.has(checkpoint.id) || checkpoint.before === 'leaving') continue;
    const isClosure = world.sheet.closures.some((one) => one.id === checkpoint.before);
    held.push({ code: 'checkpoint-open', first: isClosure ? checkpoint.before : firstGate });
  }
  if (world.first === 'open') held.push({ code: 'baseline-open', first: firstGate });
  if (world.reliefDue.size > 0) held.push({ code: 'relief-due', first: firstGate });
  for (const trouble of world.troubles.values()) {
    const code =
      trouble.stage === 'recount'
        ? 'count-differs'
        : trouble.difference < 0
          ? 'line-short'
          : 'line-over';
    held.push({ code, first: trouble.gate });
  }
  if (isXrayOwed(world) && !world.deferred) held.push({ code: 'xray-owed', first: 'sign-out' });
  const stays = world.pieces.filter((piece) => piece.place === 'stays');
  const owesHandover = stays.some(
    ({ line }) =>
      staysForAReason(world.lines.get(line)) &&
      stays.filter((one) => one.line === line).length > (world.handed.get(line) ?? 0),
  );
  if (owesHandover) held.push({ code: 'handover-open', first: 'sign-out' });
  return held;
}

/** The set of hold codes of a gate, in the order of the alphabet. */
export function holdCodes(world: World, gate: string): readonly HoldCode[] {
  const gates = gatesOf(world);
  const all = [
    ...pieceHolds(world),
    ...insideHolds(world),
    ...closureHolds(world),
    ...specimenHolds(world),
    ...caseHolds(world),
  ];
  const here = all.filter(({ first }) => gates.indexOf(first) <= gates.indexOf(gate));
  return [...new Set(here.map(({ code }) => code))].sort();
}

export function gateStateOf(world: World, gate: string): 'done' | 'held' | 'clear' {
  if (world.closed.has(gate)) return 'done';
  return holdCodes(world, gate).length > 0 ? 'held' : 'clear';
}

export type Verdict = 'open' | 'reconciled' | 'reconciled-with-record' | 'not-reconciled';

export function verdictOf(world: World): Verdict {
  if (!world.ended) return 'open';
  const isDeclared = world.pieces.some(
    (piece) => piece.place === 'missing' && piece.why === 'declared',
  );
  const isWaived = world.owed.some(({ line }) => line === undefined);
  if (isDeclared || isWaived || isXrayOwed(world)) return 'not-reconciled';
  const isPackingLeft = world.pieces.some(
    (piece) => piece.place === 'stays' && world.lines.get(piece.line)?.class === 'swab',
  );
  const isDecided = world.pieces.some(
    (piece) => piece.place === 'stays' && world.lines.get(piece.line)?.stay.may === 'no',
  );
  const isNone = world.sheet.lines.some((line) => balanceOf(world, line.id, 'missing') > 0);
  const isPartLeft = [...world.specimens.values()].some((one) => one.part);
  const isAccepted = world.fragments.some((one) => one.explained);
  const isAway = world.pieces.some(
    ({ line, place }) => place === 'away' && world.lines.get(line)?.class !== 'small',
  );
  const isException = isAway || isPackingLeft || isDecided || isNone || isPartLeft || isAccepted;
  return isException || world.amended ? 'reconciled-with-record' : 'reconciled';
}
