import type { Station } from '#engine/case/stationsOf.ts';
import type { View } from '#session/route.ts';

/** The screen that a station opens. */
export function viewOfStation(station: Pick<Station, 'id' | 'kind'>): View {
  switch (station.kind) {
    case 'checkpoint':
      return { name: 'checkpoint', about: station.id };
    case 'first-count':
      return { name: 'count', about: 'first' };
    case 'closing':
      return { name: 'closing', about: station.id };
    case 'record':
      return { name: 'record' };
    case 'prepare':
      return { name: 'brief' };
    case 'operating':
      return { name: 'frame' };
  }
}
