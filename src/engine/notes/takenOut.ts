import { say } from '#words/say.ts';
import { staysOf } from '../closures/handoverOf.ts';
import type { Line } from '../sheet.ts';
import type { Case, Note, Settling } from '../state.ts';
import type { WriteNote } from './events.ts';

/** Notes about pieces that were left by intent, and came out after the case had ended. */

/** By whom it was done, and how or why. */
export type SaidOf = { readonly by: string; readonly how: string };

const removalStart = () => say`Taken out later: `;
const stillThereStart = () => say`Not taken out: `;

/** The note by which pieces that were left are recorded as taken out. Units: `n` whole pieces. */
export const removalNote = ({ id, name }: Line, n: number, said: SaidOf): WriteNote => ({
  type: 'note',
  text: say`${removalStart()}${n} ${name} by ${said.by}: ${said.how}`,
  settles: 'taken-out',
  about: id,
  n,
});

/** The note by which pieces that were said to be out are owed again. Units: `n` whole pieces. */
export const removalWithdrawnNote = ({ id, name }: Line, n: number, said: SaidOf): WriteNote => ({
  type: 'note',
  text: `${stillThereStart()}${n} ${name}: ${said.how} (${said.by})`,
  settles: 'not-taken-out',
  about: id,
  n,
});

/** Pieces of a line that notes say were taken out, less those that later ones say were not; never more than stayed. */
export function removedOf(current: Case, line: Line): number {
  const stayed = staysOf(current, line.id);
  return current.notes.reduce((sum, note) => Math.min(stayed, sum + removedBy(note, line)), 0);
}

const removed: Partial<Record<Settling, number>> = { 'taken-out': 1, 'not-taken-out': -1 };

/** Pieces of a line that one note says were taken out; below zero where it says that they were not. */
export function removedBy({ text, settles, about, n = 0 }: Note, { id, name }: Line): number {
  if (settles !== undefined) return about === id ? n * (removed[settles] ?? 0) : 0;
  const said = text.startsWith(removalStart()) ? text.slice(removalStart().length) : '';
  const [, pieces = '0', rest = ''] = /^(\d{1,3}) (.*)$/s.exec(said) ?? [];
  return rest.startsWith(say`${name} by `) ? Number(pieces) : 0;
}
