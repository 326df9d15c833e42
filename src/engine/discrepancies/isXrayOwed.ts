import type { Case } from '../state.ts';

/**
 * Whether an X-ray is owed: a count was waived, or a piece was declared missing, and no film of the whole field
 * was read since. A film that was read before cannot show what came later.
 *
 * What was declared and then found owes no film. A deferral lets the patient leave; from then on the film stays owed
 * until it is read, found or not. Rules: D7.
 */
export function isXrayOwed(current: Case): boolean {
  const isOpen = (line: string): boolean =>
    current.deferral !== undefined ||
    current.missing.some((mark) => mark.line === line && mark.why === 'declared');
  const declared = current.settled.filter((one) => one.how === 'declared' && isOpen(one.line));
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
