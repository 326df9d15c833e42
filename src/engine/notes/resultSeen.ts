import { say } from '#words/say.ts';
import type { Case, Note, Settling, Specimen } from '../state.ts';
import type { WriteNote } from './events.ts';
import type { SaidOf } from './takenOut.ts';

/** Notes about the result of a specimen, which comes after the case has ended. */

const resultStart = ({ letter, name }: Specimen): string =>
  say`Result seen for ${letter} ${name} by `;
const withdrawnStart = ({ letter, name }: Specimen): string =>
  say`Result not seen for ${letter} ${name}: `;

/** The note by which a result is recorded as seen: by whom, and what follows. */
export const resultSeenNote = (specimen: Specimen, said: SaidOf): WriteNote => ({
  type: 'note',
  text: `${resultStart(specimen)}${said.by}: ${said.how}`,
  settles: 'result-seen',
  about: specimen.id,
});

/** The note that takes such a note back, which nothing else can once a case has ended. */
export const resultWithdrawnNote = (specimen: Specimen, said: SaidOf): WriteNote => ({
  type: 'note',
  text: `${withdrawnStart(specimen)}${said.how} (${said.by})`,
  settles: 'result-not-seen',
  about: specimen.id,
});

/** The note by which a result was seen, unless a later one says that it was not. */
export function resultSeenBy(current: Case, specimen: Specimen): Note | undefined {
  const last = current.notes.findLast((note) => saysSeen(note, specimen) !== undefined);
  return last && saysSeen(last, specimen) ? last : undefined;
}

const seen: Partial<Record<Settling, boolean>> = { 'result-seen': true, 'result-not-seen': false };

/** Whether a note says that the result was seen, or was not; undefined where it is about something else. */
function saysSeen({ text, settles, about }: Note, specimen: Specimen): boolean | undefined {
  if (settles !== undefined) return about === specimen.id ? seen[settles] : undefined;
  // Written before notes said what they settle: known by its words, in the language that is spoken.
  if (text.startsWith(resultStart(specimen))) return true;
  return text.startsWith(withdrawnStart(specimen)) ? false : undefined;
}
