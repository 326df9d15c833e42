import { listedOf } from '#engine/applies.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import type { Outcome } from '#engine/counts/events.ts';
import type { Posting } from '#engine/ledger.ts';
import type { MomentId } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import type { Followed, Miscount } from './followed.ts';
import type { Script } from './script.ts';
import { lostOf, searched, slipping, wrongLabelOf } from './slips.ts';
import { type Change, changed, changesOf, inSight, pieces, reverse } from './world.ts';

/** A practice of which nothing is entered yet. */
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

/** What lay inside unknown when this was closed. */
function closed(now: Followed, closure: string): Followed {
  const over = lostOf(now).filter(({ id, lies }) => now.slips[id] === 'there' && lies === 'inside');
  const closedOver = Object.fromEntries(over.map(({ id }) => [id, closure]));
  return { ...now, closedOver: { ...closedOver, ...now.closedOver } };
}
