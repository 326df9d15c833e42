import { assert } from '#engine/assert.ts';
import { type Envelope, noPrevious } from '#engine/history/envelope.ts';
import { canonicalJson } from './canonical.ts';
import { type Failed, fail } from './failures.ts';
import { parseEnvelope, rowLengthMax } from './parseEnvelope.ts';
import { sha256 } from './sha256.ts';

/** What the session gives for one row; the journal adds number, chain and hash. */
export type Draft = Pick<Envelope, 'id' | 'at' | 'by' | 'epoch' | 'app' | 'events'>;

type Copied = { readonly ok: true; readonly draft: Draft };

/** A row ready to be kept: the envelope and the text that stands for it. */
export type Sealed = { readonly ok: true; readonly envelope: Envelope; readonly text: string };

/** Rows of a case that were checked, and the texts they were read from. */
export type CheckedRows = {
  readonly texts: readonly string[];
  readonly rows: readonly Envelope[];
};

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

  const text = withHash(bodyText.text, id, sha256(bodyText.text));
  const parsed = parseEnvelope(text, seq);
  return parsed.ok ? { ...parsed, text } : fail('bad-entry', { row: seq });
}

/**
 * Reads rows in order and stops at the first that is damaged, changed, missing, repeated, of another
 * case, or does not follow. `broken.failure.row` is its number, counted from 1. Rows whose texts are the same as in
 * `before`, from the first on, were checked then.
 */
export async function checkRows(
  caseId: string,
  texts: readonly string[],
  before: CheckedRows = noRows,
): Promise<Checked> {
  const differing = texts.findIndex((text, index) => text !== before.texts[index]);
  const rows = before.rows.slice(0, differing === -1 ? texts.length : differing);
  for (const text of texts.slice(rows.length)) {
    const row = parseEnvelope(text, rows.length + 1);
    const broken = row.ok ? wrongWith(row.envelope, text, caseId, rows) : row;
    if (broken || !row.ok) return { rows, broken };
    rows.push(row.envelope);
  }
  return { rows, broken: undefined };
}

const noRows: CheckedRows = { rows: [], texts: [] };

function wrongWith(
  envelope: Envelope,
  text: string,
  caseId: string,
  before: readonly Envelope[],
): Failed | undefined {
  const row = before.length + 1;
  if (envelope.hash !== sha256(withoutHash(text, envelope.hash)))
    return fail('row-changed', { row });
  if (envelope.caseId !== caseId) return fail('row-foreign', { row });
  if (envelope.seq > row) return fail('row-missing', { row });
  if (envelope.seq < row) return fail('row-twice', { row });
  if (envelope.prev !== (before.at(-1)?.hash ?? noPrevious)) return fail('row-unlinked', { row });
  return undefined;
}

/**
 * The canonical text of a row from that of its body, and back: the hash stands before the id, and what comes after
 * the id is only texts and numbers, so that the last place that looks like it is it.
 */
function withHash(body: string, id: string, hash: string): string {
  const at = body.lastIndexOf(`,"id":${JSON.stringify(id)},"prev":`);
  assert(at !== -1, 'The body of a row has an id.');
  return `${body.slice(0, at)},"hash":"${hash}"${body.slice(at)}`;
}

function withoutHash(text: string, hash: string): string {
  const part = `,"hash":"${hash}"`;
  const at = text.lastIndexOf(`${part},"id":`);
  assert(at !== -1, 'A parsed envelope has a hash.');
  return text.slice(0, at) + text.slice(at + part.length);
}
