import type { CaseEvent } from '#engine/case/events.ts';
import { owedAfter } from '#engine/case/owedAfter.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import type { replay } from '#engine/history/replay.ts';
import type { Case } from '#engine/state.ts';
import type { Lately } from '#journal/lately.ts';
import { say, sayOf } from '#words/say.ts';
import { notWhole } from './notWhole.ts';
import { parseEvents } from './parseEvents.ts';
import type { JournalPort, Report, Rules } from './ports.ts';
import type { CaseSummary, RecordedRow } from './state.ts';

/** A case as it came back from the journal. `damaged` says from which row on nothing could be read. */
export type Recovered = {
  readonly current: Case | undefined;
  readonly rows: readonly RecordedRow[];
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
  const isSame = before?.rows.length === read.rows.length && before.head === read.rows.at(-1)?.hash;
  const recovered =
    before && isSame ? { ...before, reports: read.reports } : fold(read, rules.replay);
  lately?.keep(caseId, recovered);
  return recovered;
}

type Read = Extract<Awaited<ReturnType<JournalPort['readCase']>>, { readonly ok: true }>;

const nothingRead = (damaged: string): Recovered => ({
  current: undefined,
  rows: [],
  head: '',
  epoch: 0,
  damaged,
  reports: [],
});

function fold(read: Read, replayed: typeof replay): Recovered {
  const parsed: RecordedRow[] = [];
  let damaged: string | undefined;
  for (const row of read.rows) {
    const events = parseEvents(row.events);
    if (!events) {
      damaged = say`Row ${row.seq} was written by another version, or is damaged. What came before is shown.`;
      break;
    }
    parsed.push({ seq: row.seq, at: row.at, events });
  }
  const folded = replayed(parsed);
  if (!folded.ok) {
    damaged = say`Row ${folded.row} does not follow on what came before: ${folded.sentence}.`;
    if (read.rows.length === 0) damaged = nothingLeft();
    parsed.length = Math.max(0, folded.row - 1);
  }
  const last = read.rows[parsed.length - 1];
  return {
    current: folded.current,
    rows: parsed,
    head: last?.hash ?? '',
    epoch: last?.epoch ?? 0,
    damaged,
    reports: read.reports,
  };
}

const nothingLeft = () => say`No entry of this case can be read.`;

/** One line of the start screen. */
export function summaryOf(caseId: string, recovered: Recovered): CaseSummary {
  const { current, damaged } = recovered;
  return {
    caseId,
    patient: current?.patient.name ?? say`Unreadable`,
    number: current?.patient.number ?? '',
    title: current?.sheet.title ?? '',
    startedAt: current?.startedAt ?? '',
    finishedAt: current?.finishedAt,
    verdict: current ? verdictOf(current) : 'open',
    practice: current?.practice ?? false,
    damaged,
    isLocked: false,
    owed: current ? owedAfter(current) : [],
    rows: recovered.rows.length,
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
  verdict: 'open',
  practice: false,
  damaged: undefined,
  isLocked: true,
  owed: [],
  rows: 0,
  head: '',
});

/** The rows of a case as text that is the same on every machine. For comparing, not for storing. */
export const eventsOf = (rows: readonly RecordedRow[]): readonly CaseEvent[] =>
  rows.flatMap((row) => row.events);
