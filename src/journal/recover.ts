import type { Envelope } from '#engine/history/envelope.ts';
import { type Checked, type CheckedRows, checkRows } from './chain.ts';
import { type Report, report } from './failures.ts';

/** What one home holds of a case. */
export type Source = {
  readonly name: string;
  readonly texts: readonly string[];
  /** Something follows the last text that could not be read at all. */
  readonly damaged: boolean;
};

/** The rows to go on with, what has to be said, and the homes that have to be made like them. */
export type Recovery = {
  readonly rows: readonly Envelope[];
  readonly texts: readonly string[];
  readonly reports: readonly Report[];
  readonly reseed: readonly string[];
};

type Candidate = Source & Checked;

/**
 * Settles what the homes hold of a case: the longest prefix whose chain holds wins; of two equally
 * long ones that differ, the one whose last row has the higher epoch.
 *
 * Rules: nothing that was acknowledged stands in fewer than all homes, so the longest prefix has it.
 * A last row that only one home holds may never have been acknowledged; it is kept and reported.
 * `before` are rows that were checked earlier: what is the same text is not checked again.
 */
export async function recover(
  caseId: string,
  sources: readonly Source[],
  before?: CheckedRows,
): Promise<Recovery> {
  const candidates: Candidate[] = [];
  let known = before;
  for (const source of sources) {
    // Homes that hold the same, as they should, need one look.
    const { rows, broken } = await checkRows(caseId, source.texts, known);
    if (rows.length > (known?.rows.length ?? 0)) known = { texts: source.texts, rows };
    candidates.push({ ...source, rows, broken });
  }
  const winner = candidates.reduce<Candidate | undefined>(better, undefined);
  const rows = winner?.rows ?? [];
  const texts = (winner?.texts ?? []).slice(0, rows.length);

  const reports: Report[] = [];
  const reseed: string[] = [];
  for (const candidate of candidates) {
    const said = compare(candidate, texts);
    if (!said) continue;
    reports.push(said);
    reseed.push(candidate.name);
  }
  const seen = Math.max(
    0,
    ...candidates.map(({ texts, damaged }) => texts.length + Number(damaged)),
  );
  if (seen > rows.length) reports.push(report('rows-lost', { row: rows.length + 1 }));
  return { rows, texts, reports, reseed };
}

function better(best: Candidate | undefined, next: Candidate): Candidate {
  if (!best || next.rows.length > best.rows.length) return next;
  if (next.rows.length < best.rows.length) return best;
  return (next.rows.at(-1)?.epoch ?? 0) > (best.rows.at(-1)?.epoch ?? 0) ? next : best;
}

/** What is wrong with a home, measured by the texts that won; undefined if nothing is. */
function compare(candidate: Candidate, texts: readonly string[]): Report | undefined {
  const { name: home, rows, broken, damaged } = candidate;
  const shared = texts.findIndex((text, index) => text !== candidate.texts[index]);
  if (shared !== -1 && shared < rows.length) {
    return report('homes-disagree', { home, row: shared + 1 });
  }
  if (broken || damaged) return report('tail-damaged', { home, row: rows.length + 1 });
  if (rows.length === texts.length) return undefined;
  return rows.length === 0
    ? report('home-restored', { home })
    : report('home-behind', { home, row: rows.length + 1 });
}
