import { assert } from '#engine/assert.ts';
import type { Envelope } from '#engine/history/envelope.ts';
import { canonicalJson } from './canonical.ts';
import { checkRows } from './chain.ts';
import { type Failed, fail } from './failures.ts';
import { isCaseId, isHash, isRecord, parseJson, rowLengthMax } from './parseEnvelope.ts';

/** Characters in a file to be imported. */
export const fileLengthMax = 50_000_000;
export const fileRowsMax = 200_000;

const format = 'lastlook-journal';

/** A file whose every row was checked. */
export type Imported = {
  readonly ok: true;
  readonly caseId: string;
  readonly rows: readonly Envelope[];
  readonly texts: readonly string[];
};

/** The whole of a case as text: a header, then one row a line. Needs at least one row. */
export function exportText(rows: readonly Envelope[], texts: readonly string[]): string {
  const last = rows.at(-1);
  assert(last !== undefined && rows.length === texts.length, 'There are rows to export.');
  const { caseId, hash } = last;
  const header = canonicalJson({ format, v: 1, caseId, rows: rows.length, head: hash });
  assert(header.ok, 'A header has a canonical form.');
  return [header.text, ...texts, ''].join('\n');
}

/**
 * Reads a file of another tablet, or an older one of this. It must be byte for byte as exported.
 *
 * Fails: file-too-large, file-foreign, file-newer, file-damaged, file-truncated, file-overlong, and
 * all codes that begin with `row-`, with the number of the row.
 */
export async function parseExport(text: string): Promise<Imported | Failed> {
  if (text.length > fileLengthMax) return fail('file-too-large');
  const end = text.indexOf('\n');
  const headerText = text.slice(0, end === -1 ? undefined : end);
  if (headerText.length > 1000) return fail('file-foreign');
  const header = parseHeader(headerText);
  if (!header.ok) return header;

  // The line after the last line end is empty in a whole file.
  const lines = text.slice(headerText.length + 1).split('\n', fileRowsMax + 2);
  const texts = lines.slice(0, header.rows);
  const tooLong = texts.findIndex((line) => line.length > rowLengthMax);
  if (tooLong !== -1) return fail('row-too-long', { row: tooLong + 1 });

  // A row that is wrong says more than a number of rows that is wrong, so it comes first.
  const isCut = lines.length <= header.rows;
  const whole = isCut ? texts.slice(0, -1) : texts;
  const { rows, broken } = await checkRows(header.caseId, whole);
  if (broken) return broken;
  if (isCut) return fail('file-truncated');
  if (lines.length > header.rows + 1 || lines.at(-1) !== '') return fail('file-overlong');
  if (rows.at(-1)?.hash !== header.head) return fail('file-damaged');
  return { ok: true, caseId: header.caseId, rows, texts };
}

type Header = {
  readonly ok: true;
  readonly caseId: string;
  readonly rows: number;
  readonly head: string;
};

function parseHeader(text: string): Header | Failed {
  const value = parseJson(text);
  if (!isRecord(value) || value.format !== format) return fail('file-foreign');
  if (typeof value.v === 'number' && value.v > 1) return fail('file-newer');
  const { caseId, rows, head } = value;
  const canonical = canonicalJson(value);
  if (!canonical.ok || canonical.text !== text) return fail('file-damaged');
  if (Object.keys(value).length !== 5 || value.v !== 1) return fail('file-damaged');
  if (typeof caseId !== 'string' || !isCaseId(caseId) || !isHash(head)) return fail('file-damaged');
  if (typeof rows !== 'number' || !Number.isInteger(rows) || rows < 1) return fail('file-damaged');
  if (rows > fileRowsMax) return fail('file-too-large');
  return { ok: true, caseId, rows, head };
}
