import type { Sheet } from '#engine/sheet.ts';
import { sayOf } from '#words/say.ts';
import type { SheetEntry } from './sheetEntry.ts';

/** The fields of a sheet that people read. Every other text is a short name, or tells where something comes from. */
const read: ReadonlySet<string> = new Set([
  'title',
  'name',
  'detail',
  'group',
  'ask',
  'short',
  'note',
  'siteWords',
  'test',
  'asks',
  'aims',
  'briefing',
]);

/**
 * A sheet in the language that is spoken now, as far as its words are those that are shipped. What a theatre wrote
 * itself stays as it is. A case keeps the words that it was opened with.
 */
export const sheetInWords = (sheet: Sheet): Sheet => spoken(sheet, '');

/** The same of a sheet that is read later. */
export const entryInWords = <Entry extends SheetEntry>(entry: Entry): Entry => ({
  ...entry,
  title: sayOf(entry.title),
  load: async () => sheetInWords(await entry.load()),
});

function spoken<Value>(value: Value, field: string): Value {
  if (typeof value === 'string')
    // A text stays a text of the same field: only what people read is said anew.
    return (read.has(field) ? sayOf(value) : value) as Value;
  if (Array.isArray(value))
    // A list of the same things, each said.
    return value.map((one) => spoken(one, field)) as Value;
  if (typeof value !== 'object' || value === null) return value;
  // The same fields with the same kinds of values.
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [key, spoken(one, key)]),
  ) as Value;
}
