import { assert } from '#engine/assert.ts';
import { type Envelope, noPrevious } from '#engine/history/envelope.ts';
import { canonicalJson } from './canonical.ts';
import { type Failed, fail } from './failures.ts';
import { parseEnvelope, rowLengthMax } from './parseEnvelope.ts';

/** What the session gives for one row; the journal adds number, chain and hash. */
export type Draft = Pick<Envelope, 'id' | 'at' | 'by' | 'epoch' | 'app' | 'events'>;

type Copied = { readonly ok: true; readonly draft: Draft };

/** A row ready to be kept: the envelope and the text that stands for it. */
export type Sealed = { readonly ok: true; readonly envelope: Envelope; readonly text: string };

/** The rows of a case that hold, from the first on, and what is wrong with the next one. */
export type Checked = {
  readonly rows: readonly Envelope[];
  readonly broken: Failed | undefined;
};

/**
 * A copy of a draft as it is now, so that its caller may change its events afterwards.
 *
 * Fails: not-json.
 */
export function copyDraft({ id, at, by, epoch, app, events }: Draft): Copied | Failed {
  const canonical = canonicalJson({ id, at, by, epoch, app, events });
  return canonical.ok ? { ok: true, draft: JSON.parse(canonical.text) } : canonical;
}

/**
 * Numbers, chains and hashes one row. The envelope in the answer is read back from the text, so that
 * what is used now is what will be read later.
 *
 * Fails: not-json, entry-too-long, bad-entry.
 */
export async function seal(
  caseId: string,
  last: Envelope | undefined,
  draft: Draft,
): Promise<Sealed | Failed> {
  const { id, at, by, epoch, app, events } = draft;
  const seq = (last?.seq ?? 0) + 1;
  const prev = last?.hash ?? noPrevious;
  const body = { v: 1, caseId, seq, id, at, by, epoch, app, events, prev };
  const bodyText = canonicalJson(body);
  if (!bodyText.ok) return bodyText;
  if (bodyText.text.length > rowLengthMax - 100) return fail('entry-too-long');

  const whole = canonicalJson({ ...body, hash: await sha256(bodyText.text) });
  assert(whole.ok, 'A canonical text stays canonical when a hash is added.');
  const parsed = parseEnvelope(whole.text, seq);
  return parsed.ok ? { ...parsed, text: whole.text } : fail('bad-entry', { row: seq });
}

/**
 * Reads rows in order and stops at the first that is damaged, changed, missing, repeated, of another
 * case, or does not follow. `broken.failure.row` is its number, counted from 1.
 */
export async function checkRows(caseId: string, texts: readonly string[]): Promise<Checked> {
  const parsed = texts.map((text, index) => parseEnvelope(text, index + 1));
  const hashes = await Promise.all(
    parsed.map(async (row) => (row.ok ? await hashOf(row.envelope) : '')),
  );
  const rows: Envelope[] = [];
  for (const [index, row] of parsed.entries()) {
    const broken = row.ok ? wrongWith(row.envelope, caseId, rows, hashes[index] ?? '') : row;
    if (broken || !row.ok) return { rows, broken };
    rows.push(row.envelope);
  }
  return { rows, broken: undefined };
}

function wrongWith(
  envelope: Envelope,
  caseId: string,
  before: readonly Envelope[],
  hash: string,
): Failed | undefined {
  const row = before.length + 1;
  if (envelope.hash !== hash) return fail('row-changed', { row });
  if (envelope.caseId !== caseId) return fail('row-foreign', { row });
  if (envelope.seq > row) return fail('row-missing', { row });
  if (envelope.seq < row) return fail('row-twice', { row });
  if (envelope.prev !== (before.at(-1)?.hash ?? noPrevious)) return fail('row-unlinked', { row });
  return undefined;
}

/** The hash that an envelope has to carry. */
async function hashOf({ hash: _, ...body }: Envelope): Promise<string> {
  const canonical = canonicalJson(body);
  assert(canonical.ok, 'A parsed envelope has a canonical form.');
  return sha256(canonical.text);
}

/** Source: FIPS 180-4, through the browser's own implementation. */
export async function sha256(text: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
