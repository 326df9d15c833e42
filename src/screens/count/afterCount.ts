import { closureOf } from '#engine/applies.ts';
import { stationOf } from '#engine/case/stationsOf.ts';
import type { MomentId } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import type { View } from '#session/route.ts';
import { nextGate } from '../gates.ts';
import { viewOfStation } from '../stationViews.ts';

/**
 * What comes after a count: what did not agree, the closure that it was for, the checkpoint that stands next before
 * the incision, or the frame.
 */
export function afterCount(current: Case, moment: MomentId): View {
  if (Object.keys(current.differing).length > 0) return { name: 'recount' };
  const gate = nextGate(current);
  const isForGate = closureOf(current, gate)?.count === moment;
  if (isForGate) return { name: 'closing', about: gate };
  const next = current.incisionAt === undefined ? stationOf(current) : undefined;
  return next?.kind === 'checkpoint' ? viewOfStation(next) : { name: 'frame' };
}
