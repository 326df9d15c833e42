import { assert } from '#engine/assert.ts';
import type { Envelope } from '#engine/history/envelope.ts';
import { canonicalJson } from './canonical.ts';
import { checkRows } from './chain.ts';
import { type Failed, fail } from './failures.ts';
import { isCaseId, isHash, isRecord, parseJson, rowLengthMax } from './parseEnvelope.ts';
import { fitsHead, type Head, isSigned, type Signed } from './signature.ts';

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
  /** By which key the end of the chain was signed; it fits. Older files are not signed. */
  readonly signed: Signed | undefined;
};

/** Where the chain of a case ends. Needs at least one row. */
export function headOf(rows: readonly Envelope[]): Head {
  const last = rows.at(-1);
  assert(last !== undefined, 'There are rows to export.');
  return { caseId: last.caseId, rows: rows.length, head: last.hash };
}

/**
 * The whole of a case as text: a header, then one row a line. Needs at least one row. The header is of version 2
 * where the end of the chain is signed, since a program that knows no signatures must not take it for damaged.
 */
export function exportText(
  rows: readonly Envelope[],
  texts: readonly string[],
  signed?: Signed,
): string {
  assert(rows.length === texts.length, 'Each row has its text.');
  const version = signed ? { v: 2, signed } : { v: 1 };
  const header = canonicalJson({ format, ...headOf(rows), ...version });
  assert(header.ok, 'A header has a canonical form.');
  return [header.text, ...texts, ''].join('\n');
}

/**
 * Reads a file of another tablet, or an older one of this. It must be byte for byte as exported.
 *
 * Fails: file-too-large, file-foreign, file-newer, file-damaged, file-truncated, file-overlong, signature-wrong,
 * and all codes that begin with `row-`, with the number of the row.
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
  const { caseId, signed } = header;
  if (signed && !(await fitsHead(signed, headOf(rows)))) return fail('signature-wrong');
  return { ok: true, caseId, rows, texts, signed };
}

type Header = {
  readonly ok: true;
  readonly caseId: string;
  readonly rows: number;
  readonly head: string;
  readonly signed: Signed | undefined;
};

function parseHeader(text: string): Header | Failed {
  const value = parseJson(text);
  if (!isRecord(value) || value.format !== format) return fail('file-foreign');
  if (typeof value.v === 'number' && value.v > 2) return fail('file-newer');
  const { caseId, rows, head, signed } = value;
  const canonical = canonicalJson(value);
  if (!canonical.ok || canonical.text !== text) return fail('file-damaged');
  const isWhole = signed === undefined ? value.v === 1 : value.v === 2 && isSigned(signed);
  if (Object.keys(value).length !== (signed ? 6 : 5) || !isWhole) return fail('file-damaged');
  if (typeof caseId !== 'string' || !isCaseId(caseId) || !isHash(head)) return fail('file-damaged');
  if (typeof rows !== 'number' || !Number.isInteger(rows) || rows < 1) return fail('file-damaged');
  if (rows > fileRowsMax) return fail('file-too-large');
  return { ok: true, caseId, rows, head, signed: isSigned(signed) ? signed : undefined };
}
