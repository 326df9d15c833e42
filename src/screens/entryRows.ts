import { entryWords } from '#engine/case/entryWords.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { isRole, tabletName } from '#engine/people.ts';
import type { Case } from '#engine/state.ts';
import type { RecordedRow } from '#session/state.ts';
import { whoWords } from './whoWords.ts';

/** One entry as a person reads it. */
export type EntryRow = {
  readonly entry: number;
  /** 14:31:52 */
  readonly at: string;
  readonly subject: string;
  readonly rest: string;
  /** Whose tap it was, as far as that was said. */
  readonly by: string;
  /** The entry that took it back. */
  readonly takenBackIn: number | undefined;
};

/** The entries of a case, newest first; of one line alone where it is given. The opening of the case is none. */
export function entryRows(
  current: Case,
  rows: readonly RecordedRow[],
  line?: string,
): readonly EntryRow[] {
  const takenBack = new Map(
    rows
      .flatMap(({ events }) => events)
      .flatMap((event) => (event.type === 'corrected' ? [[event.corrects, event.entry]] : [])),
  );
  const concerns = (event: CaseEvent): boolean =>
    line === undefined || linesOf(event).includes(line);
  return rows
    .flatMap(({ events }) => events.filter(concerns).slice(-1))
    .filter(({ type }) => type !== 'opened')
    .map((event) => ({
      entry: event.entry,
      at: event.at.slice(11, 19),
      ...entryWords(current, event),
      by: byWords(event.by),
      takenBackIn: takenBack.get(event.entry),
    }))
    .reverse();
}

function byWords(by: string): string {
  if (by === tabletName) return '';
  return isRole(by) ? whoWords(by) : by;
}

/** The lines that an event names, or whose pieces it moves. */
function linesOf(event: CaseEvent): readonly string[] {
  const posted = 'postings' in event ? event.postings.map(({ line }) => line) : [];
  return 'line' in event && event.line !== undefined ? [event.line, ...posted] : posted;
}
