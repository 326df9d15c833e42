import type { Site } from './sheet.ts';

/** Where a piece is. `supply` and `changed` are contra accounts; a site of the patient is `patient/<site>`. */
export type Place =
  | 'supply'
  | 'table'
  | `patient/${string}`
  | 'off'
  | 'stays'
  | 'specimen'
  | 'away'
  | 'missing'
  | 'changed';

const plainPlaces = [
  'supply',
  'table',
  'off',
  'stays',
  'specimen',
  'away',
  'missing',
  'changed',
] as const;
export type PlainPlace = (typeof plainPlaces)[number];

/** A contra account is allowed below zero: what came in from supply, what turned into something else. */
export const isContra = (place: Place): boolean => place === 'supply' || place === 'changed';

export const isInside = (place: Place): place is `patient/${string}` =>
  place.startsWith('patient/');

export const inSite = (site: string): `patient/${string}` => `patient/${site}`;

export const siteOf = (place: `patient/${string}`): string => place.slice('patient/'.length);

/** The place that these words mean on this sheet; plain `patient` only where the sheet has one site. */
export function placeFrom(words: string, sites: readonly Site[]): Place | undefined {
  const plain = plainPlaces.find((place) => place === words);
  if (plain) return plain;
  const only = sites.length === 1 ? sites[0] : undefined;
  if (words === 'patient') return only && inSite(only.id);
  const site = words.startsWith('patient/') ? words.slice('patient/'.length) : words;
  return sites.some((known) => known.id === site) ? inSite(site) : undefined;
}
