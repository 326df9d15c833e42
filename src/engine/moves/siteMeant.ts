import { isInside, placeFrom, siteOf } from '../places.ts';
import type { Case } from '../state.ts';

/** The site that these words mean; the only site where nothing was said. */
export function siteMeant(current: Case, words: string | undefined): string | undefined {
  const place = placeFrom(words ?? 'patient', current.sheet.sites);
  return place !== undefined && isInside(place) ? siteOf(place) : undefined;
}
