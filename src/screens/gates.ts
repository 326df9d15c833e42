import { closuresOf, gatesOf, signOut } from '#engine/applies.ts';
import { gateState } from '#engine/closures/holdsOf.ts';
import type { Case } from '#engine/state.ts';

/** The next gate: the first that is not passed. */
export function nextGate(current: Case): string {
  return gatesOf(current).find((gate) => gateState(current, gate) !== 'done') ?? signOut;
}

export const gateName = (current: Case, gate: string): string =>
  closuresOf(current).find((closure) => closure.id === gate)?.name ?? 'Sign out';

/** What the list of holds is called while the next gate is this one. */
export function gateTitle(current: Case, gate: string, isHeld: boolean): string {
  if (!isHeld) return 'Nothing open that I know of';
  if (current.incisionAt === undefined) return 'Before closing';
  return gate === signOut ? 'Sign out is held' : 'Closure is held';
}
