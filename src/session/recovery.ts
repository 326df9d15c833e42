import type { Outcome } from '#engine/case/outcomeOf.ts';
import type { replay } from '#engine/history/replay.ts';
import type { Case } from '#engine/state.ts';
import type { Lately } from '#journal/lately.ts';
import { say, sayOf } from '#words/say.ts';
import { notWhole } from './notWhole.ts';
import { parseEvents } from './parseEvents.ts';
import type { JournalPort, Report, Row, Rules } from './ports.ts';
import type { CaseSummary, RecordedRow } from './state.ts';

/** A case as it came back from the journal. `damaged` says from which row on nothing could be read. */
export type Recovered = {
  readonly current: Case | undefined;
  /** The last row that could be read; its number says how many. */
  readonly last: RecordedRow | undefined;
  readonly head: string;
  /** Epoch of the last row; 0 where there is none. */
  readonly epoch: number;
  readonly damaged: string | undefined;
  readonly reports: readonly Report[];
};

/** What reading a case needs: what folds it comes with the rules. */
export type Reading = {
  readonly journal: JournalPort;
  readonly readRules: () => Promise<Rules | undefined>;
  readonly lately?: Lately<Recovered>;
};

/**
 * Reads a case, checks its rows and folds them. Never an empty start without a word.
 *
 * A writer's reading settles the two homes; a reader's changes nothing. A record that ends with the same hash as
 * `lately` is the same record, and is not folded again.
 */
export async function recover(
  { journal, readRules, lately }: Reading,
  caseId: string,
  as: 'writer' | 'reader',
): Promise<Recovered> {
  const [rules, read] = await Promise.all([readRules(), journal.readCase(caseId, as)]);
  if (!read.ok) return nothingRead(read.failure.sentence);
  if (!rules) return nothingRead(sayOf(notWhole));
  const before = lately?.of(caseId);
  const isSame = before?.last?.seq === read.rows.length && before.head === read.rows.at(-1)?.hash;
  const recovered =
    before && isSame ? { ...before, reports: read.reports } : fold(read, rules.replay);
  lately?.keep(caseId, recovered);
  return recovered;
}

type Read = Extract<Awaited<ReturnType<JournalPort['readCase']>>, { readonly ok: true }>;

const nothingRead = (damaged: string): Recovered => ({
  current: undefined,
  last: undefined,
  head: '',
  epoch: 0,
  damaged,
  reports: [],
});

function fold(read: Read, replayed: typeof replay): Recovered {
  const { rows, unreadable } = parseRows(read.rows);
  let damaged: string | undefined;
  if (unreadable !== undefined)
    damaged = say`Row ${unreadable} was written by another version, or is damaged. What came before is shown.`;
  const folded = replayed(rows);
  if (!folded.ok) {
    damaged = say`Row ${folded.row} does not follow on what came before: ${folded.sentence}.`;
    if (read.rows.length === 0) damaged = nothingLeft();
  }
  const count = folded.ok ? rows.length : Math.max(0, folded.row - 1);
  const kept = read.rows[count - 1];
  return {
    current: folded.current,
    last: rows[count - 1],
    head: kept?.hash ?? '',
    epoch: kept?.epoch ?? 0,
    damaged,
    reports: read.reports,
  };
}

type Parsed = {
  readonly rows: readonly RecordedRow[];
  /** Number of the first row that this version cannot read. */
  readonly unreadable: number | undefined;
};

/** What the journal gave, as rows whose events are known, up to the first that is not. */
export function parseRows(read: readonly Row[]): Parsed {
  const rows: RecordedRow[] = [];
  for (const { seq, at, events } of read) {
    const known = parseEvents(events);
    if (!known) return { rows, unreadable: seq };
    rows.push({ seq, at, events: known });
  }
  return { rows, unreadable: undefined };
}

const nothingLeft = () => say`No entry of this case can be read.`;

const openSoFar: Outcome = { verdict: 'open', owed: [], settled: [] };

/** One line of the start screen, in the language that is spoken. */
export function summaryOf(
  caseId: string,
  recovered: Recovered,
  rules: Rules | undefined,
): CaseSummary {
  const { current, damaged } = recovered;
  return {
    caseId,
    patient: current?.patient.name ?? say`Unreadable`,
    number: current?.patient.number ?? '',
    title: current?.sheet.title ?? '',
    startedAt: current?.startedAt ?? '',
    finishedAt: current?.finishedAt,
    ...((current && rules?.outcomeOf(current)) ?? openSoFar),
    practice: current?.practice ?? false,
    damaged,
    isLocked: false,
    rows: recovered.last?.seq ?? 0,
    head: recovered.head,
  };
}

/** A case that only a PIN opens. */
export const lockedSummary = (caseId: string): CaseSummary => ({
  caseId,
  patient: say`Locked`,
  number: '',
  title: '',
  startedAt: '',
  finishedAt: '',
  ...openSoFar,
  practice: false,
  damaged: undefined,
  isLocked: true,
  rows: 0,
  head: '',
});
