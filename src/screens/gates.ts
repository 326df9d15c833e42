import { gatesOf, signOut } from '#engine/applies.ts';
import { isGateDone } from '#engine/closures/holdsOf.ts';
import type { Case } from '#engine/state.ts';

/** The next gate: the first closure that is not made, then sign out. */
export function nextGate(current: Case): string {
  return gatesOf(current).find((gate) => !isGateDone(current, gate)) ?? signOut;
}
