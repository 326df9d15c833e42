import { rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';

/** As many come in a bag of swabs, where nothing better is known. Units: pieces. */
const bagOf = 5;

/**
 * How many swabs of a line most likely lie on the scales: those that are off the field and were not weighed yet. It
 * is a beginning, to be changed. Of a line that waits for its recount it says nothing of what the record holds.
 *
 * Units: pieces.
 */
export function unweighed(current: Case, line: string): number {
  if (current.differing[line]?.stage === 'recount') return bagOf;
  const weighed = current.weighed.filter((one) => one.line === line);
  const left = rowOf(current.ledger, line).off - weighed.reduce((sum, one) => sum + one.n, 0);
  return left > 0 ? left : bagOf;
}
