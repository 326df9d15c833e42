import type { Envelope } from '#engine/history/envelope.ts';
import { isCanonical } from './canonical.ts';
import { type Failed, fail } from './failures.ts';

/** Characters in one row as text. */
export const rowLengthMax = 1_000_000;

/** Names of cases are names of files too. */
const caseIdForm = /^[A-Za-z0-9][A-Za-z0-9._-]{0,99}$/;
const instantForm = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,9})?(Z|[+-]\d\d:\d\d)$/;
const hashForm = /^[0-9a-f]{64}$/;
const fields = 'app at by caseId epoch events hash id prev seq v';

/** In canonical text a key stands just so; a program that assigns by key could be misled by these. */
const misleadingKey = /"(?:__proto__|constructor|prototype)":/;

export type ParsedRow = { readonly ok: true; readonly envelope: Envelope } | Failed;

/**
 * Reads one row of text. The text must be the canonical form, so that no byte of it can differ
 * unseen. Chain and hash are checked by `checkRows`.
 *
 * Fails: row-too-long, row-unreadable, row-newer.
 */
export function parseEnvelope(text: string, row: number): ParsedRow {
  if (text.length > rowLengthMax) return fail('row-too-long', { row });
  const value = parseJson(text);
  if (isRecord(value) && typeof value.v === 'number' && value.v > 1)
    return fail('row-newer', { row });
  if (value === undefined || !isCanonical(text, value) || misleadingKey.test(text)) {
    return fail('row-unreadable', { row });
  }
  return isEnvelope(value) ? { ok: true, envelope: value } : fail('row-unreadable', { row });
}

/** Refuses nothing by itself: says whether a text may name a case. */
export const isCaseId = (text: string): boolean => caseIdForm.test(text);

/** Undefined stands for text that is not JSON: JSON itself has no such value. */
export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function isEnvelope(value: unknown): value is Envelope {
  return (
    isRecord(value) &&
    Object.keys(value).sort().join(' ') === fields &&
    value.v === 1 &&
    isText(value.caseId, 100) &&
    isCaseId(value.caseId) &&
    isWhole(value.seq, 1) &&
    isText(value.id, 200) &&
    isInstant(value.at) &&
    isText(value.by, 200) &&
    isWhole(value.epoch, 0) &&
    isText(value.app, 100) &&
    Array.isArray(value.events) &&
    isHash(value.prev) &&
    isHash(value.hash)
  );
}

const isText = (value: unknown, lengthMax: number): value is string =>
  typeof value === 'string' && value.length > 0 && value.length <= lengthMax;

const isWhole = (value: unknown, least: number): boolean =>
  typeof value === 'number' && Number.isSafeInteger(value) && value >= least;

const isInstant = (value: unknown): boolean =>
  typeof value === 'string' && instantForm.test(value) && Number.isFinite(Date.parse(value));

export const isHash = (value: unknown): value is string =>
  typeof value === 'string' && hashForm.test(value);
