import type { Case, Handover } from '../state.ts';

/**
 * The handover that covers everything that stays of a line; undefined while there is none, or more stays than was
 * handed over.
 *
 * Rules: X9.
 */
export function handoverOf(current: Case, line: string): Handover | undefined {
  const handover = current.handovers[line];
  return handover && handover.n >= staysOf(current, line) ? handover : undefined;
}

/** Pieces of a line that stay. */
export const staysOf = (current: Case, line: string): number =>
  (current.left[line] ?? []).reduce((sum, pieces) => sum + pieces.n, 0);
