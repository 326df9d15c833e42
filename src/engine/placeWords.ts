import { say, sayInside } from '#words/say.ts';
import { isInside, type Place, siteOf } from './places.ts';
import type { Case } from './state.ts';

/** A place as people say it. */
export function placeWords(current: Case, place: Place): string {
  if (isInside(place)) {
    const site = current.sheet.sites.find((known) => known.id === siteOf(place));
    return say`the ${sayInside(site?.name ?? 'patient')}`;
  }
  const words: Readonly<Record<Exclude<Place, `patient/${string}`>, string>> = {
    supply: 'supply',
    table: say`the table`,
    off: say`off the field`,
    stays: say`stays on purpose`,
    specimen: say`the specimen`,
    away: say`away`,
    missing: say`missing`,
    changed: 'changed',
  };
  return words[place];
}
