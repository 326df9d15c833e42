import { entryWords } from '#engine/case/entryWords.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import type { Outcome } from '#engine/counts/events.ts';
import type { Case } from '#engine/state.ts';
import { lineFactsOf } from '../lineFacts.ts';
import { eventsIn, takenBack, type WholeRecord } from '../wholeRecord.ts';
import type { Cell, Table } from './csv.ts';

export const tableNames = ['lines', 'counts', 'entries', 'specimens'] as const;
export type TableName = (typeof tableNames)[number];

const makers: Readonly<Record<TableName, (record: WholeRecord) => Table>> = {
  lines: linesTable,
  counts: countsTable,
  entries: entriesTable,
  specimens: specimensTable,
};

/** One of the four tables. */
export const tableOf = (record: WholeRecord, name: TableName): Table => makers[name](record);

/**
 * All four as one table: the first column says which, and columns of the same name are shared, so that every record
 * of the file has as many fields as the header (RFC 4180, section 2.4).
 */
export function allTables(record: WholeRecord): Table {
  const tables = tableNames.map((name) => ({ name, ...tableOf(record, name) }));
  const columns = [...new Set(tables.flatMap((one) => one.columns))];
  const rows = tables.flatMap(({ name, columns: own, rows: ownRows }) =>
    ownRows.map((cells): readonly Cell[] => [
      name,
      ...columns.map((column) => {
        const place = own.indexOf(column);
        return place < 0 ? undefined : cells[place];
      }),
    ]),
  );
  return { columns: ['table', ...columns], rows };
}

function linesTable({ current }: WholeRecord): Table {
  const places = [
    'inAll',
    'table',
    'inside',
    'off',
    'stays',
    'specimen',
    'away',
    'missing',
  ] as const;
  const rows = lineFactsOf(current).map((line): readonly Cell[] => [
    line.line,
    line.name,
    current.lines.get(line.line)?.class,
    ...places.map((place) => line[place]),
  ]);
  const names = [
    'in all',
    'on table',
    'inside',
    'off',
    'stays',
    'with specimen',
    'away',
    'missing',
  ];
  return { columns: ['line', 'name', 'class', ...names], rows };
}

type Compared = Extract<CaseEvent, { readonly outcomes: readonly Outcome[] }>;

/** One record a line and count. What was expected stays out while the line waits to be counted again. */
function countsTable(record: WholeRecord): Table {
  const { current } = record;
  const events = eventsIn(record).filter((event): event is Compared => 'outcomes' in event);
  const rows = events.flatMap((event) =>
    event.outcomes.map(({ line, found, expected }): readonly Cell[] => {
      const isFirst = event.type === 'countAgreed' && event.moment === 'first';
      const isBlind = current.differing[line]?.stage === 'recount';
      const known = isFirst || isBlind ? undefined : expected;
      return [
        event.entry,
        event.at,
        event.type === 'recounted' ? 'Recount' : momentName(current, event.moment),
        event.agreedBy.join(' and '),
        line,
        current.lines.get(line)?.name,
        found.field,
        found.off,
        known,
        known === undefined ? undefined : found.field + found.off - known,
      ];
    }),
  );
  const columns = ['entry', 'at', 'count', 'by', 'line', 'name'];
  return { columns: [...columns, 'seen in field', 'seen off', 'expected', 'difference'], rows };
}

function entriesTable(record: WholeRecord): Table {
  const back = takenBack(eventsIn(record));
  const rows = eventsIn(record).map((event): readonly Cell[] => {
    const { subject, rest } = entryWords(record.current, event);
    return [event.entry, event.at, event.by, event.type, subject, rest, back.get(event.entry)];
  });
  return { columns: ['entry', 'at', 'by', 'type', 'about', 'what', 'taken back by'], rows };
}

function specimensTable({ current }: WholeRecord): Table {
  const rows = Object.values(current.specimens).map((one): readonly Cell[] => [
    one.letter,
    one.name,
    one.siteWords,
    one.side,
    one.test,
    one.stage,
    one.pieces,
    one.isWhole,
    one.partReason,
    one.takenAt,
    one.pot,
    one.medium,
    one.mediumReason,
    one.labelledBy,
    one.labelledAt,
    one.readBackBy,
    one.readBackAt,
    one.handedTo,
    one.handedAt,
    carriesWords(current, one.carries ?? {}),
  ]);
  return { columns: specimenColumns, rows };
}

const specimenColumns = [
  'letter',
  'name',
  'site',
  'side',
  'test',
  'stage',
  'pieces',
  'whole',
  'why not whole or not taken',
  'taken at',
  'pot',
  'medium',
  'why this medium',
  'labelled by',
  'labelled at',
  'read back by',
  'read back at',
  'handed to',
  'handed at',
  'with it',
];

const carriesWords = (current: Case, carries: Readonly<Record<string, number>>): string =>
  Object.entries(carries)
    .map(([line, n]) => `${n} ${current.lines.get(line)?.name ?? line}`)
    .join(', ');
