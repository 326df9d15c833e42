import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { drillsOf } from '#drill/drillFile.ts';
import { runDrill } from '#drill/runDrill.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import type { Envelope } from '#engine/history/envelope.ts';
import { replay } from '#engine/history/replay.ts';
import { seal } from '#journal/chain.ts';
import { chainCode } from '#journal/chainCode.ts';
import { exportText } from '#journal/exportFile.ts';
import type { RecordRow, WholeRecord } from '#record/wholeRecord.ts';
import { drillFolder, sheets } from './drillSheets.ts';

/** Every file of drills, by its path from tests/drills. */
export const everyDrill = (): readonly string[] =>
  readdirSync(drillFolder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.yaml') && !/^sheets\b/.test(file))
    .sort();

/** The events that the drills of a file leave, one list a drill; drills whose case is never opened leave none. */
export function eventsOfDrills(file: string): readonly (readonly CaseEvent[])[] {
  const text = readFileSync(join(drillFolder, file), 'utf8');
  const read = drillsOf(text, sheets);
  if (!read.ok) throw new Error(`${file}: ${read.issues[0]?.sentence}`);
  return read.drills.flatMap(({ drill, sheet }) => {
    const { events } = runDrill(drill, sheet);
    return events.length > 0 ? [events] : [];
  });
}

/** Events as rows, one for each entry, as the session would have written them. */
export function rowsOf(events: readonly CaseEvent[]): readonly RecordRow[] {
  const rows: { seq: number; at: string; events: CaseEvent[] }[] = [];
  for (const event of events) {
    const last = rows.at(-1);
    if (last && last.events[0]?.entry === event.entry) last.events.push(event);
    else rows.push({ seq: rows.length + 1, at: event.at, events: [event] });
  }
  return rows;
}

export type Exported = { readonly text: string; readonly record: WholeRecord };

/** A case as a tablet would hand it out, and the record it is. */
export async function exported(events: readonly CaseEvent[]): Promise<Exported> {
  const rows = rowsOf(events);
  const envelopes: Envelope[] = [];
  const texts: string[] = [];
  for (const row of rows) {
    const [first] = row.events;
    if (!first) throw new Error('a row has an event');
    const { id, by } = first;
    const draft = { id, at: row.at, by, epoch: 1, app: 'test', events: row.events };
    const sealed = await seal(caseIdOf(events), envelopes.at(-1), draft);
    if (!sealed.ok) throw new Error(sealed.failure.sentence);
    envelopes.push(sealed.envelope);
    texts.push(sealed.text);
  }
  const folded = replay(rows);
  if (!folded.ok) throw new Error(folded.sentence);
  const head = envelopes.at(-1)?.hash ?? '';
  const record = { current: folded.current, rows, head, code: chainCode(head) };
  return { text: exportText(envelopes, texts), record };
}

const caseIdOf = (events: readonly CaseEvent[]): string => {
  const [opened] = events;
  if (opened?.type !== 'opened') throw new Error('the first event opens the case');
  return opened.caseId;
};

/** The record of the only, or the first, drill of a file. */
export async function recordOfDrill(file: string): Promise<WholeRecord> {
  const [events] = eventsOfDrills(file);
  if (!events) throw new Error(`${file} leaves no case`);
  return (await exported(events)).record;
}
