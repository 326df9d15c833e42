import type { CaseEvent } from '#engine/case/events.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import type { Verdict } from '#engine/closures/verdictWords.ts';
import { replay } from '#engine/history/replay.ts';
import { canonicalJson } from '#journal/canonical.ts';
import { checkRows } from '#journal/chain.ts';
import { chainCode } from '#journal/chainCode.ts';
import { fileLengthMax, type Imported, parseExport } from '#journal/exportFile.ts';
import type { FailureCode } from '#journal/failures.ts';
import { isRecord, parseEnvelope, parseJson } from '#journal/parseEnvelope.ts';
import { sha256 } from '#journal/sha256.ts';
import { keyCode } from '#journal/signature.ts';
import { parseEvents } from './parseEvents.ts';

/** What can be said of a case from its rows. No name and no number of a patient is among it. */
export type Told = {
  readonly caseId: string;
  readonly rows: number;
  /** The short form of the last hash, as it stands on the printed record. */
  readonly code: string;
  readonly verdict: Verdict;
  readonly startedAt: string;
  readonly finishedAt: string | undefined;
  readonly practice: boolean;
};

/** Which key signed the end of the record, in its short form; undefined where none did. The signature fits. */
export type SignedBy = string | undefined;

/**
 * What a file is. `changed`: `row` is the first that does not hold (0 stands for the first line of the
 * file, before the rows), `tells` is what the rows before it say, `later` are rows after it that do not
 * even fit their own hash. `unreadable`: nothing can be said about it.
 */
export type Verification =
  | { readonly state: 'whole'; readonly told: Told; readonly signedBy: SignedBy }
  | {
      readonly state: 'changed';
      readonly row: number;
      readonly sentence: string;
      readonly told: Told | undefined;
      readonly later: readonly number[];
    }
  | { readonly state: 'unreadable'; readonly sentence: string };

/**
 * Says whether an exported file is byte for byte as a tablet wrote it, and replays it to its verdict.
 *
 * Rules: who makes the whole chain anew can write any file; only the code on the printed record tells
 * that, so it is given here to be compared. So is the key of the signature: anybody can sign with a key of their own.
 */
export async function verifyFile(bytes: Uint8Array): Promise<Verification> {
  // Longer than this in bytes is longer in letters too, whatever it is.
  if (bytes.length > fileLengthMax * 3) return unreadable('This file is too large to be a record.');
  const text = strictText(bytes);
  if (text === undefined) return changedLetters(bytes);

  const file = await parseExport(text);
  if (file.ok) return whole(file);
  const { code, row, sentence } = file.failure;
  const { texts } = split(text);
  if (row === undefined || isOfFirstLine(code, texts)) {
    const isOurs = texts.some((line) => parseEnvelope(line, 1).ok);
    if (!isOurs || code === 'file-newer' || code === 'file-too-large') return unreadable(sentence);
    return changed(texts, { row: placeOf(code, text), sentence: said(code, sentence) });
  }
  if (code === 'row-newer' && fitsItsHash(texts[row - 1] ?? '')) return unreadable(sentence);
  return changed(texts, { row, sentence });
}

/** Rows that all name one case, which is not the one that the first line names. */
const isOfFirstLine = (code: FailureCode, texts: readonly string[]): boolean =>
  code === 'row-foreign' && new Set(texts.map(caseOf)).size === 1;

function caseOf(text: string): string | undefined {
  const row = parseEnvelope(text, 1);
  return row.ok ? row.envelope.caseId : undefined;
}

const said = (code: FailureCode, sentence: string): string =>
  code === 'row-foreign' ? 'The first line names another case than the rows.' : sentence;

/** Where a file that is wrong as a whole stops being right; 0 is its first line. */
function placeOf(code: FailureCode, text: string): number {
  const header = parseJson(text.slice(0, text.indexOf('\n')));
  const { texts } = split(text);
  const last = parseJson(texts.at(-1) ?? '');
  if (!isRecord(header) || (isRecord(last) && last.hash === header.head)) return 0;
  if (code === 'file-truncated') return Math.max(1, text.split('\n').length - 1);
  return code === 'file-overlong' ? Number(header.rows) + 1 : 0;
}

const unreadable = (sentence: string): Verification => ({ state: 'unreadable', sentence });

/** Text that is byte for byte the file, or undefined: a decoder that mends would hide a changed byte. */
function strictText(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

/** A byte that is no letter: the line that it stands in is the one that was changed. */
async function changedLetters(bytes: Uint8Array): Promise<Verification> {
  const { texts } = split(new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
  if (!texts.some((line) => parseEnvelope(line, 1).ok))
    return unreadable('This file is not text, so it is not a record.');
  const row = lineWithoutLetters(bytes);
  const sentence =
    row === 0 ? 'The first line of this file was damaged or changed.' : `Row ${row} was damaged.`;
  return changed(texts, { row, sentence });
}

/** Units: lines from 0, so that the header is 0 and each row its own number. */
function lineWithoutLetters(bytes: Uint8Array): number {
  let row = 0;
  let start = 0;
  for (let end = bytes.indexOf(10); end !== -1; end = bytes.indexOf(10, start)) {
    if (strictText(bytes.subarray(start, end)) === undefined) return row;
    row += 1;
    start = end + 1;
  }
  return row;
}

function split(text: string): { readonly texts: readonly string[] } {
  const lines = text.split('\n').slice(1);
  return { texts: lines.at(-1) === '' ? lines.slice(0, -1) : lines };
}

async function whole({ caseId, texts, signed }: Imported): Promise<Verification> {
  const read = await tell(caseId, texts);
  if (read.isUnknown)
    return unreadable(`Row ${read.stoppedAt} was written by another version of the program.`);
  if (read.told && read.stoppedAt === undefined) {
    const signedBy = signed && (await keyCode(signed.by));
    return { state: 'whole', told: read.told, signedBy };
  }
  const row = read.stoppedAt ?? 1;
  const sentence = `Row ${row} fits its hash, but this program did not write it: it cannot follow.`;
  return { state: 'changed', row, sentence, told: read.told, later: [] };
}

async function changed(
  texts: readonly string[],
  { row, sentence }: { readonly row: number; readonly sentence: string },
): Promise<Verification> {
  const first = parseEnvelope(texts[0] ?? '', 1);
  const good = texts.slice(0, row === 0 ? undefined : row - 1);
  const { told } = first.ok ? await tell(first.envelope.caseId, good) : { told: undefined };
  const later: number[] = [];
  for (const [index, text] of texts.entries())
    if (index + 1 > Math.max(row, 1) && !fitsItsHash(text)) later.push(index + 1);
  return { state: 'changed', row, sentence, told, later };
}

/** Whether a row, taken alone, is what its hash was made of: of whatever version it is. */
function fitsItsHash(text: string): boolean {
  const value = parseJson(text);
  if (!isRecord(value)) return false;
  const { hash, ...body } = value;
  const canonical = canonicalJson(body);
  return canonical.ok && sha256(canonical.text) === hash;
}

type Read = {
  readonly told: Told | undefined;
  readonly stoppedAt: number | undefined;
  /** It stopped at an event that this version does not know. */
  readonly isUnknown: boolean;
};

/** Replays the rows that hold, as far as they go. */
async function tell(caseId: string, texts: readonly string[]): Promise<Read> {
  const { rows } = await checkRows(caseId, texts);
  const known: { readonly events: readonly CaseEvent[] }[] = [];
  for (const row of rows) {
    const events = parseEvents(row.events);
    if (!events) break;
    known.push({ events });
  }
  const isUnknown = known.length < rows.length;
  const played = replay(known);
  const length = played.ok ? known.length : played.row - 1;
  const stoppedAt = length < rows.length ? length + 1 : undefined;
  const last = rows[length - 1];
  const { current } = played;
  if (!current || !last) return { told: undefined, stoppedAt, isUnknown };
  const told = {
    caseId,
    rows: length,
    code: chainCode(last.hash),
    verdict: verdictOf(current),
    startedAt: current.startedAt,
    finishedAt: current.finishedAt,
    practice: current.practice,
  };
  return { told, stoppedAt, isUnknown: isUnknown && length === known.length };
}
