import { isInside, type Place, siteOf } from '../places.ts';
import type { Case } from '../state.ts';

/** A place as people say it. */
export function placeWords(current: Case, place: Place): string {
  if (isInside(place)) {
    const site = current.sheet.sites.find((known) => known.id === siteOf(place));
    return `the ${(site?.name ?? 'patient').toLowerCase()}`;
  }
  const words: Readonly<Record<Exclude<Place, `patient/${string}`>, string>> = {
    supply: 'supply',
    table: 'the table',
    off: 'off the field',
    stays: 'stays on purpose',
    specimen: 'the specimen',
    away: 'away',
    missing: 'missing',
    changed: 'changed',
  };
  return words[place];
}
