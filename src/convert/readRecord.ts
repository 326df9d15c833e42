import { replay } from '#engine/history/replay.ts';
import { chainCode } from '#journal/chainCode.ts';
import { parseExport } from '#journal/exportFile.ts';
import type { RecordRow, WholeRecord } from '#record/wholeRecord.ts';
import { parseEvents } from '#session/parseEvents.ts';

export type Read =
  | { readonly ok: true; readonly record: WholeRecord }
  | { readonly ok: false; readonly sentence: string };

/** Reads a case that was taken out of a tablet as a file: every row is checked before any of it is used. */
export async function readRecord(text: string): Promise<Read> {
  const parsed = await parseExport(text);
  if (!parsed.ok) return { ok: false, sentence: parsed.failure.sentence };
  const rows: RecordRow[] = [];
  for (const { seq, at, events } of parsed.rows) {
    const known = parseEvents(events);
    if (!known)
      return { ok: false, sentence: `Row ${seq} was written by another version of the program.` };
    rows.push({ seq, at, events: known });
  }
  const folded = replay(rows);
  if (!folded.ok) {
    const why = `Row ${folded.row} does not follow on what came before: ${folded.sentence}.`;
    return { ok: false, sentence: why };
  }
  const head = parsed.rows.at(-1)?.hash ?? '';
  return { ok: true, record: { current: folded.current, rows, head, code: chainCode(head) } };
}
