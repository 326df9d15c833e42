import type { CaseEvent } from '#engine/case/events.ts';
import type { Followed } from './followed.ts';
import { sceneNow } from './sceneNow.ts';
import type { LostPieces, Search } from './script.ts';
import { changed, type Spot, spotWith } from './world.ts';

/** What the practice writes into its record when a label is destroyed and printed again. */
export const newLabelNote = 'Practice: the label was destroyed before two people and printed anew.';

/** The slip whose label of this specimen is in the hand and wrong. */
export function wrongLabelOf(now: Followed, specimen: string): string | undefined {
  const slip = now.script.slips.find((one) => one.kind === 'label' && one.specimen === specimen);
  return slip && now.slips[slip.id] === 'waiting' ? slip.id : undefined;
}

/** The slips in which pieces get lost. */
export const lostOf = ({ script }: Followed): readonly LostPieces[] =>
  script.slips.filter((slip) => slip.kind === 'lost');

/** A search brings out what lies there, into somebody's hand; a new label replaces the wrong one. */
export function searched(now: Followed, event: CaseEvent): Followed {
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
export function slipping(now: Followed): Followed {
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
