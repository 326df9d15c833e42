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
  return leftOf(current, line) ?? bagOf;
}

/**
 * What is measured next where one thing after another is: swabs that were not weighed, by their line, then what the
 * suction holds. Undefined where both are done: somebody says what else there is.
 */
export function measuredNext(
  current: Case,
): { readonly kind: 'swabs'; readonly line: string } | { readonly kind: 'suction' } | undefined {
  const line = current.sheet.lines.find(
    (one) => one.class === 'swab' && leftOf(current, one.id) !== undefined,
  );
  if (line) return { kind: 'swabs', line: line.id };
  return current.fluids.some(({ kind }) => kind === 'suction') ? undefined : { kind: 'suction' };
}

/** Off the field and not weighed; undefined where there are none, or where the record may not say. */
function leftOf(current: Case, line: string): number | undefined {
  if (current.differing[line]?.stage === 'recount') return undefined;
  const weighed = current.weighed.filter((one) => one.line === line);
  const left = rowOf(current.ledger, line).off - weighed.reduce((sum, one) => sum + one.n, 0);
  return left > 0 ? left : undefined;
}
