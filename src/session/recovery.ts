import type { CaseEvent } from '#engine/case/events.ts';
import { owedAfter } from '#engine/case/owedAfter.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import { replay } from '#engine/history/replay.ts';
import type { Case } from '#engine/state.ts';
import type { Lately } from '#journal/lately.ts';
import { say } from '#words/say.ts';
import { parseEvents } from './parseEvents.ts';
import type { JournalPort, Report } from './ports.ts';
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

/**
 * Reads a case, checks its rows and folds them. Never an empty start without a word.
 *
 * A writer's reading settles the two homes; a reader's changes nothing. A record that ends with the same hash as
 * `lately` is the same record, and is not folded again.
 */
export async function recover(
  journal: JournalPort,
  caseId: string,
  as: 'writer' | 'reader',
  lately?: Lately<Recovered>,
): Promise<Recovered> {
  const read = await journal.readCase(caseId, as);
  if (!read.ok)
    return {
      current: undefined,
      rows: [],
      head: '',
      epoch: 0,
      damaged: read.failure.sentence,
      reports: [],
    };
  const before = lately?.of(caseId);
  const isSame = before?.rows.length === read.rows.length && before.head === read.rows.at(-1)?.hash;
  const recovered = before && isSame ? { ...before, reports: read.reports } : fold(read);
  lately?.keep(caseId, recovered);
  return recovered;
}

type Read = Extract<Awaited<ReturnType<JournalPort['readCase']>>, { readonly ok: true }>;

function fold(read: Read): Recovered {
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
  const folded = replay(parsed);
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
