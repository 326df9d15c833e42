import { listedOf } from '#engine/applies.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import type { Outcome } from '#engine/counts/events.ts';
import type { Posting } from '#engine/ledger.ts';
import type { MomentId } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { sceneNow } from './sceneNow.ts';
import type { LostPieces, Script, Search } from './script.ts';
import {
  type Change,
  changed,
  changesOf,
  inSight,
  pieces,
  reverse,
  type Spot,
  spotWith,
  type World,
} from './world.ts';

/** A count that did not say what lay there. Units: whole pieces, field and off together. */
export type Miscount = {
  readonly entry: number;
  readonly moment: MomentId | 'recount';
  readonly line: string;
  readonly said: number;
  readonly lay: number;
};

/** An entry that says what was not so. */
export type Untrue = {
  readonly entry: number;
  readonly line: string;
  readonly what: 'moved' | 'found' | 'label' | 'readBack';
};

/**
 * How far a slip is. `waiting`: has not happened. `there`: has happened, and nobody knows. `seen`: found, or set
 * aside, or the label was destroyed. `over`: it can no longer happen.
 */
export type SlipState = 'waiting' | 'there' | 'seen' | 'over';

/** A practice as its entries have made it: the record, and beside it what is really so. */
export type Followed = {
  readonly script: Script;
  readonly current: Case | undefined;
  readonly world: World;
  /** Entries that stand, without those that were taken back. */
  readonly live: readonly CaseEvent[];
  readonly done: Readonly<Record<number, readonly Change[]>>;
  readonly slips: Readonly<Record<string, SlipState>>;
  readonly miscounts: readonly Miscount[];
  readonly untrue: readonly Untrue[];
  /** Closures that were made while something lay inside unknown, by slip. */
  readonly closedOver: Readonly<Record<string, string>>;
};

/** What the practice writes into its record when a label is destroyed and printed again. */
export const newLabelNote = 'Practice: the label was destroyed before two people and printed anew.';

export const atFirst = (script: Script): Followed => ({
  script,
  current: undefined,
  world: {},
  live: [],
  done: {},
  slips: Object.fromEntries(script.slips.map(({ id }) => [id, 'waiting'])),
  miscounts: [],
  untrue: [],
  closedOver: {},
});

/** The practice after these entries. Pure: the same entries give the same practice. */
export const followed = (script: Script, events: readonly CaseEvent[]): Followed =>
  events.reduce(follow, atFirst(script));

/** The practice after one entry more. */
export function follow(before: Followed, event: CaseEvent): Followed {
  const current = evolve(before.current, event);
  const live =
    event.type === 'corrected'
      ? before.live.filter(({ entry }) => entry !== event.corrects)
      : [...before.live, event];
  const recorded = happen({ ...before, current, live }, event);
  return slipping(searched(recorded, event));
}

/** What the entry did to the world, and whether it said what was so. */
function happen(now: Followed, event: CaseEvent): Followed {
  const { current } = now;
  if (!current) return now;
  switch (event.type) {
    case 'opened':
      return moved(now, event.entry, layOut(current));
    case 'variantChanged':
      return moved(now, event.entry, onTable(event.opened));
    case 'added':
      return added(now, event);
    case 'moved':
    case 'turned':
    case 'broken':
    case 'carriedIn':
    case 'specimenTaken':
      return posted(now, event, event.postings);
    case 'found':
      return foundAgain(now, event);
    case 'countAgreed':
      return counted(now, event, event.moment, event.setAside);
    case 'recounted':
      return counted(now, event, 'recount', []);
    case 'corrected':
      return takenBack(now, event.corrects, event.entry);
    case 'specimenLabelled':
    case 'specimenReadBack':
      return labelled(now, event);
    case 'closed':
      return closed(now, event.closure);
    default:
      return now; // every other entry is words and moves nothing
  }
}

const moved = (now: Followed, entry: number, changes: readonly Change[]): Followed => ({
  ...now,
  world: changed(now.world, changes),
  done: { ...now.done, [entry]: changes },
});

const layOut = (current: Case): readonly Change[] =>
  current.sheet.lines
    .map((line) => ({ line: line.id, spot: 'table' as const, by: listedOf(current, line) }))
    .filter(({ by }) => by > 0);

const onTable = (opened: Readonly<Record<string, number>>): readonly Change[] =>
  Object.entries(opened).map(([line, by]) => ({ line, spot: 'table', by }));

type AddedEvent = Extract<CaseEvent, { readonly type: 'added' }>;

/** What was opened lies there as it really is; a pack that was set aside is out of the field, whatever it held. */
function added(now: Followed, event: AddedEvent): Followed {
  const slip = now.script.slips.find(
    (one) => one.kind === 'pack' && one.line === event.line && now.slips[one.id] === 'waiting',
  );
  const changes = changesOf(now.world, event.postings) ?? [];
  if (slip?.kind !== 'pack') return moved(now, event.entry, changes);
  const pack = now.current?.lines.get(slip.line)?.pack ?? slip.holds;
  if (event.setAside.length > 0)
    return { ...moved(now, event.entry, changes), slips: { ...now.slips, [slip.id]: 'seen' } };
  const odd = { line: slip.line, spot: 'table', by: slip.holds - pack } as const;
  return {
    ...moved(now, event.entry, [...changes, odd]),
    slips: { ...now.slips, [slip.id]: 'there' },
  };
}

function posted(now: Followed, event: CaseEvent, postings: readonly Posting[]): Followed {
  const changes = changesOf(now.world, postings);
  if (changes) return moved(now, event.entry, changes);
  const line = postings[0]?.line ?? '';
  return { ...now, untrue: [...now.untrue, { entry: event.entry, line, what: 'moved' }] };
}

type FoundEvent = Extract<CaseEvent, { readonly type: 'found' }>;

/** What was found goes from the hand to where it is put. Found what nobody has found is not so. */
function foundAgain(now: Followed, event: FoundEvent): Followed {
  const { line, n, place } = event;
  const hand = (['in hand', 'in hand, off'] as const).find(
    (spot) => pieces(now.world, line, spot) >= n,
  );
  if (hand)
    return moved(now, event.entry, [
      { line, spot: hand, by: -n },
      { line, spot: place, by: n },
    ]);
  if (pieces(now.world, line, 'hidden') > 0)
    return { ...now, untrue: [...now.untrue, { entry: event.entry, line, what: 'found' }] };
  return posted(now, event, event.postings);
}

type SetAside = readonly { readonly line: string; readonly pieces: number }[];

/** Compares what was said with what lay there; a pack set aside at the first count leaves the table. */
function counted(
  now: Followed,
  event: { readonly entry: number; readonly outcomes: readonly Outcome[] },
  moment: MomentId | 'recount',
  setAside: SetAside,
): Followed {
  const { current, world } = now;
  if (!current) return now;
  const miscounts = event.outcomes.flatMap(({ line, found }): readonly Miscount[] => {
    const lies = inSight(world, current, line);
    const lay = lies.field + lies.off;
    const said = found.packs ? sum(found.packs) : found.field + found.off;
    return said === lay ? [] : [{ entry: event.entry, moment, line, said, lay }];
  });
  const gone = setAside.map(({ line, pieces: by }) => ({
    line,
    spot: 'table' as const,
    by: -Math.min(by, pieces(world, line, 'table')),
  }));
  return {
    ...moved(now, event.entry, gone),
    miscounts: [...now.miscounts, ...miscounts],
  };
}

const sum = (numbers: readonly number[]): number => numbers.reduce((one, two) => one + two, 0);

function takenBack(now: Followed, corrects: number, entry: number): Followed {
  const undone = moved(now, entry, reverse(now.done[corrects] ?? []));
  return { ...undone, untrue: now.untrue.filter((one) => one.entry !== corrects) };
}

type LabelEvent = Extract<CaseEvent, { readonly type: 'specimenLabelled' | 'specimenReadBack' }>;

/** A label of somebody else that was called right; the second person may still see it. */
function labelled(now: Followed, event: LabelEvent): Followed {
  const slip = wrongLabelOf(now, event.specimen);
  if (!slip) return now;
  if (event.type === 'specimenReadBack' && !event.agrees)
    return { ...now, slips: { ...now.slips, [slip]: 'seen' } };
  const what = event.type === 'specimenLabelled' ? 'label' : 'readBack';
  return { ...now, untrue: [...now.untrue, { entry: event.entry, line: event.specimen, what }] };
}

/** The slip whose label of this specimen is in the hand and wrong. */
export function wrongLabelOf(now: Followed, specimen: string): string | undefined {
  const slip = now.script.slips.find((one) => one.kind === 'label' && one.specimen === specimen);
  return slip && now.slips[slip.id] === 'waiting' ? slip.id : undefined;
}

/** What lay inside unknown when this was closed. */
function closed(now: Followed, closure: string): Followed {
  const over = lostOf(now).filter(({ id, lies }) => now.slips[id] === 'there' && lies === 'inside');
  const closedOver = Object.fromEntries(over.map(({ id }) => [id, closure]));
  return { ...now, closedOver: { ...closedOver, ...now.closedOver } };
}

const lostOf = ({ script }: Followed): readonly LostPieces[] =>
  script.slips.filter((slip) => slip.kind === 'lost');

/** A search brings out what lies there, into somebody's hand; a new label replaces the wrong one. */
function searched(now: Followed, event: CaseEvent): Followed {
  if (event.type === 'noteWritten' && event.text === newLabelNote) return newLabels(now);
  const search = searchIn(event);
  if (!search) return now;
  const seen = lostOf(now).filter(
    (slip) =>
      now.slips[slip.id] === 'there' &&
      slip.foundBy.includes(search.how) &&
      (search.line === undefined || search.line === slip.line),
  );
  return seen.reduce(brought, now);
}

type Searched = { readonly how: Search; readonly line?: string };

function searchIn(event: CaseEvent): Searched | undefined {
  if (event.type === 'looked') return { how: 'look' };
  if (event.type !== 'discrepancyStepped' || event.skipped !== undefined) return undefined;
  const { step, line } = event;
  return step === 'field-searched' || step === 'room-searched' ? { how: step, line } : undefined;
}

function brought(now: Followed, slip: LostPieces): Followed {
  const { line, pieces: n } = slip;
  const spot: Spot = slip.lies === 'inside' ? 'in hand' : 'in hand, off';
  const world = changed(now.world, [
    { line, spot: 'hidden', by: -n },
    { line, spot, by: n },
  ]);
  return { ...now, world, slips: { ...now.slips, [slip.id]: 'seen' } };
}

function newLabels(now: Followed): Followed {
  const wrong = now.script.slips.filter(
    (slip) => slip.kind === 'label' && now.slips[slip.id] === 'waiting',
  );
  const seen = Object.fromEntries(wrong.map(({ id }) => [id, 'seen' as const]));
  return { ...now, slips: { ...now.slips, ...seen } };
}

/** Whatever happens, unsaid, as a scene begins. */
function slipping(now: Followed): Followed {
  const { current } = now;
  if (!current) return now;
  const reached = sceneNow(now.script, current, now.live).index;
  return lostOf(now)
    .filter(({ id }) => now.slips[id] === 'waiting')
    .filter(({ at }) => now.script.scenes.findIndex(({ id }) => id === at) <= reached)
    .reduce(lost, now);
}

function lost(now: Followed, slip: LostPieces): Followed {
  const { line, pieces: n, from } = slip;
  if (!now.current) return now;
  const spot = spotWith(now.world, now.current, { line, n, from });
  if (!spot) return { ...now, slips: { ...now.slips, [slip.id]: 'over' } };
  const world = changed(now.world, [
    { line, spot, by: -n },
    { line, spot: 'hidden', by: n },
  ]);
  return { ...now, world, slips: { ...now.slips, [slip.id]: 'there' } };
}
