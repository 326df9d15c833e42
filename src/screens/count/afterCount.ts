import { closureOf } from '#engine/applies.ts';
import type { MomentId } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import type { View } from '#session/route.ts';
import { nextGate } from '../gates.ts';

/** What comes after a count: what did not agree, the closure that it was for, or the frame. */
export function afterCount(current: Case, moment: MomentId): View {
  if (Object.keys(current.differing).length > 0) return { name: 'recount' };
  const gate = nextGate(current);
  const isForGate = closureOf(current, gate)?.count === moment;
  return isForGate ? { name: 'closing', about: gate } : { name: 'frame' };
}
