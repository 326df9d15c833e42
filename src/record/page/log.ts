import { entryWords } from '#engine/case/entryWords.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import { tabletName } from '#engine/people.ts';
import type { Case } from '#engine/state.ts';
import { dateWords } from '#words/dates.ts';
import { say, sayAll, sayInside } from '#words/say.ts';
import { timeWords } from '../instants.ts';
import { lineFactsOf } from '../lineFacts.ts';
import { type Branch, type Child, el, table } from '../tree.ts';
import { eventsIn, takenBack, type WholeRecord } from '../wholeRecord.ts';

/** Where every piece is, line by line. */
export function linesPart(current: Case): Branch {
  const rows = lineFactsOf(current).map((line): readonly Child[] => [
    line.name,
    ...[
      line.inAll,
      line.table,
      line.inside,
      line.off,
      line.stays,
      line.specimen + line.away,
      line.missing,
    ].map((pieces) =>
      el(
        'span',
        { class: 'digits-type', 'data-none': pieces === 0 ? 'yes' : undefined },
        pieces ?? '?',
      ),
    ),
  ]);
  const columns = [
    say`Line`,
    say`In all`,
    say`Table`,
    say`Inside`,
    say`Off`,
    say`Stays`,
    say`Specimen`,
    say`Missing`,
  ];
  return table('record-lines', columns, rows);
}

/** What the counts found: differences from the tray list, packs set aside, and how each difference ended. */
export function findingsPart(current: Case): Branch | undefined {
  const name = (line: string) => current.lines.get(line)?.name ?? line;
  const { findings, setAside } = current.counts;
  const sentences = [
    ...findings.map(
      (one) => say`${name(one.line)}: ${one.listed} listed, ${one.seen} seen when counted in.`,
    ),
    ...setAside.map((one) => say`${name(one.line)}: a pack of ${one.pieces} was set aside whole.`),
    ...current.settled.map((one) => {
      const way = one.difference > 0 ? say`over` : say`short`;
      const when = sayInside(momentName(current, one.moment));
      const end =
        one.how === 'agreed'
          ? say`settled by recounts at ${timeWords(one.settledAt)}`
          : say`declared by ${sayAll(one.by ?? [])} at ${timeWords(one.settledAt)}`;
      return say`${name(one.line)}: ${way} by ${Math.abs(one.difference)} at the ${when}, ${end}.`;
    }),
  ];
  if (sentences.length === 0) return undefined;
  return el(
    'ul',
    { class: 'record-counts' },
    sentences.map((one) => el('li', {}, one)),
  );
}

/** Every entry, in order. What was taken back stays, struck through, with the entry that took it back. */
export function entriesPart(record: WholeRecord): Branch {
  const back = takenBack(eventsIn(record));
  const rows = record.rows.flatMap((row) =>
    row.events.map((event, index) => entryRow(record.current, event, index === 0, back)),
  );
  const columns = [say`No.`, say`Time`, say`What`, say`Entered by`];
  return el(
    'table',
    { class: 'record-entries' },
    el('thead', {}, el('tr', {}, ...columns.map((one) => el('th', { scope: 'col' }, one)))),
    el('tbody', {}, rows, endRow(record)),
  );
}

/** The time of day; with its day where that is not the day on which the case was opened. */
const whenWords = ({ startedAt }: Case, at: string): string =>
  at.slice(0, 10) === startedAt.slice(0, 10)
    ? timeWords(at, true)
    : say`${dateWords(at)}, ${timeWords(at, true)}`;

/** A row of the table, so that it never stands on a page by itself. */
function endRow(record: WholeRecord): Branch {
  const words = say`End of the record: ${eventsIn(record).length} facts in ${record.rows.length} entries.`;
  const hash = el('span', { class: 'digits-type record-hash' }, record.head);
  return el(
    'tr',
    { class: 'record-end' },
    el('td', { colspan: 4 }, say`${words} SHA-256 of the last: `, hash),
  );
}

function entryRow(
  current: Case,
  event: CaseEvent,
  isFirst: boolean,
  back: ReadonlyMap<number, number>,
): Branch {
  const words = entryWords(current, event);
  const by = back.get(event.entry);
  const said: readonly Child[] = [el('strong', {}, words.subject), ` ${words.rest}`];
  const what = by === undefined ? said : [el('s', {}, ...said), say` Taken back by entry ${by}.`];
  return el(
    'tr',
    { 'data-type': event.type, 'data-taken-back': by },
    el('td', { class: 'digits-type' }, isFirst ? event.entry : ''),
    el('td', { class: 'digits-type' }, whenWords(current, event.at)),
    el('td', {}, ...what),
    el('td', {}, event.by === tabletName ? say`theatre tablet` : event.by),
  );
}
