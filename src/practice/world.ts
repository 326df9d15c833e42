import { isInUse } from '#engine/applies.ts';
import type { Posting } from '#engine/ledger.ts';
import { inSite, type Place } from '#engine/places.ts';
import type { Case } from '#engine/state.ts';

/**
 * Where the pieces really lie. The record is what people said; this is what is so, since in practice no table
 * stands before the person. Units: whole pieces by line and spot.
 */
export type World = Readonly<Record<string, number>>;

/** Beside the places of the ledger: where nobody looked yet, and what was just found and is in somebody's hand. */
export type Spot = Place | 'hidden' | 'in hand' | 'in hand, off';

export type Change = { readonly line: string; readonly spot: Spot; readonly by: number };

export const pieces = (world: World, line: string, spot: Spot): number =>
  world[`${line}@${spot}`] ?? 0;

export function changed(world: World, changes: readonly Change[]): World {
  const next: Record<string, number> = { ...world };
  for (const { line, spot, by } of changes) {
    const key = `${line}@${spot}`;
    next[key] = (next[key] ?? 0) + by;
  }
  return next;
}

export const reverse = (changes: readonly Change[]): readonly Change[] =>
  changes.map((change) => ({ ...change, by: -change.by }));

/** Places that are accounts and not places: nothing lies there. */
const isAccount = (place: Place): boolean => ['supply', 'changed', 'missing'].includes(place);

/**
 * What an entry that moves pieces did to the world, if what it says can be so. Pieces in hand are where the
 * entry says that they came from.
 *
 * Answers undefined where it cannot be so: somebody recorded what nobody saw.
 */
export function changesOf(
  world: World,
  postings: readonly Posting[],
): readonly Change[] | undefined {
  const changes: Change[] = [];
  for (const { line, place, by } of postings) {
    if (isAccount(place)) continue;
    if (by >= 0) {
      changes.push({ line, spot: place, by });
      continue;
    }
    const taken = takenFrom(world, line, place, -by);
    if (!taken) return undefined;
    changes.push(...taken);
  }
  return changes;
}

/** Takes what is in hand first: what was just found is what is recorded now. */
function takenFrom(
  world: World,
  line: string,
  place: Place,
  wanted: number,
): readonly Change[] | undefined {
  const changes: Change[] = [];
  let rest = wanted;
  for (const spot of ['in hand', 'in hand, off', place] as const) {
    const by = Math.min(rest, pieces(world, line, spot));
    if (by > 0) changes.push({ line, spot, by: -by });
    rest -= by;
  }
  return rest === 0 ? changes : undefined;
}

/** What two people see of a line now: in the field and on the table, and off the field. */
export function inSight(
  world: World,
  current: Case,
  line: string,
): { readonly field: number; readonly off: number } {
  const sites = current.sheet.sites.map(({ id }): Place => inSite(id));
  const inside = isInUse(current, line)
    ? sites.reduce((sum, site) => sum + pieces(world, line, site), 0)
    : 0;
  return {
    field: pieces(world, line, 'table') + pieces(world, line, 'in hand') + inside,
    off: pieces(world, line, 'off') + pieces(world, line, 'in hand, off'),
  };
}

/** The first spot of the field that has this many pieces of a line: the one meant, if it has. */
export function spotWith(
  world: World,
  current: Case,
  { line, n, from }: { readonly line: string; readonly n: number; readonly from: string },
): Spot | undefined {
  const sites = current.sheet.sites.map(({ id }): Place => inSite(id));
  const all: readonly Place[] = ['table', 'off', ...sites];
  const meant = from === 'patient' ? sites : all.filter((place) => place === from);
  return [...meant, ...all].find((spot) => pieces(world, line, spot) >= n);
}
