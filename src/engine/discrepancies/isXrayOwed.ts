import type { Case, Settled } from '../state.ts';

/**
 * Whether an X-ray is owed: a count was waived, or a piece was declared missing without a film of the whole field.
 *
 * A deferral lets the patient leave; the film stays owed until it is read. Rules: D7.
 */
export function isXrayOwed(current: Case): boolean {
  const isAnyRead = current.xrays.some((film) => film.wholeField);
  if (current.counts.waivers.length > 0 && !isAnyRead) return true;
  return current.settled.some((one) => one.how === 'declared' && !isFilmed(current, one));
}

function isFilmed(current: Case, one: Settled): boolean {
  return current.xrays.some(
    (film) => film.wholeField && (film.line === undefined || film.line === one.line),
  );
}
