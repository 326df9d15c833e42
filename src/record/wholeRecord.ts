import { assert } from '#engine/assert.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { replay } from '#engine/history/replay.ts';
import type { Case } from '#engine/state.ts';

/** One entry as it was written. */
export type RecordRow = {
  readonly seq: number;
  readonly at: string;
  readonly events: readonly CaseEvent[];
};

/** All that a record is made from: the case, every entry, and the end of the chain. */
export type WholeRecord = {
  readonly current: Case;
  readonly rows: readonly RecordRow[];
  /** SHA-256 of the last row, in hex. */
  readonly head: string;
  /** Its short form, so that paper and file can be held together. */
  readonly code: string;
};

/**
 * The record as it comes back from the journal, where keys are sorted: what was just entered and what was read from
 * a file then give the same page and the same bytes.
 *
 * Throws: Fault, for rows that do not make a case.
 */
export function asKept(record: WholeRecord): WholeRecord {
  const rows = record.rows.map((row) => ({ ...row, events: row.events.map(sorted) }));
  const folded = replay(rows);
  assert(folded.ok, 'the rows of an open case make a case');
  return { ...record, rows, current: folded.current };
}

/** The same value with the keys of every object in order. */
function sorted<Value>(value: Value): Value {
  if (Array.isArray(value)) return value.map(sorted) as Value; // an array of the same things
  if (typeof value !== 'object' || value === null) return value;
  const parts = Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1));
  return Object.fromEntries(parts.map(([key, part]) => [key, sorted(part)])) as Value; // the same keys
}

/** Every event, in order. */
export const eventsIn = (record: WholeRecord): readonly CaseEvent[] =>
  record.rows.flatMap((row) => row.events);

/** Which correction took an entry back, by the number of the entry. */
export function takenBack(events: readonly CaseEvent[]): ReadonlyMap<number, number> {
  const corrections = events.flatMap((event) =>
    event.type === 'corrected' ? [[event.corrects, event.entry] as const] : [],
  );
  return new Map(corrections);
}
