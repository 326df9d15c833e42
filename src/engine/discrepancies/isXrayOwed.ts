import type { Case } from '../state.ts';

/**
 * Whether an X-ray is owed: a count was waived, or a piece was declared missing, and no film of the whole field
 * was read since. A film that was read before cannot show what came later.
 *
 * A deferral lets the patient leave; the film stays owed until it is read. Rules: D7.
 */
export function isXrayOwed(current: Case): boolean {
  const declared = current.settled.filter((one) => one.how === 'declared');
  return (
    current.counts.waivers.some(({ entry }) => !isFilmed(current, entry, undefined)) ||
    declared.some(({ entry, line }) => !isFilmed(current, entry, line))
  );
}

function isFilmed(current: Case, since: number, line: string | undefined): boolean {
  return current.xrays.some(
    (film) =>
      film.wholeField &&
      film.entry > since &&
      (film.line === undefined || line === undefined || film.line === line),
  );
}
