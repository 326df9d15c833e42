import type { Command } from '#engine/case/events.ts';
import { inSite, type Place } from '#engine/places.ts';
import type { Line } from '#engine/sheet.ts';

/** What a part of a line's own sheet is given. */
export type LinePartProps = {
  readonly line: Line;
  readonly act: (command: Command) => Promise<void>;
};

/** Places where a piece of a line can be now. */
export const placesOf = (sites: readonly { readonly id: string }[]): readonly Place[] => [
  'table',
  ...sites.map((site) => inSite(site.id)),
  'off',
];
