import { assert } from '#engine/assert.ts';
import { type Envelope, noPrevious } from '#engine/history/envelope.ts';
import { type CheckedRows, copyDraft, type Draft, type Sealed, seal } from './chain.ts';
import { type Failed, fail, report } from './failures.ts';
import { ask, type Home } from './home.ts';
import { keepRow, limitFor, type Patience } from './keepRow.ts';
import { type KeptTexts, keepTexts } from './keptTexts.ts';
import type { Lately } from './lately.ts';
import { type CaseRows, type Found, lookUp, lookUpTwice, type Place } from './lookUp.ts';
import { parseEnvelope } from './parseEnvelope.ts';

export type Appended =
  | {
      readonly ok: true;
      readonly envelope: Envelope;
      /** The id was recorded before; this is the row of that time. */
      readonly again: boolean;
    }
  | Failed;

/** What an import came to: how many rows of the case were here before it. */
export type Extended = { readonly ok: true; readonly had: number } | Failed;

/** One case in all its homes. What changes it is done in the order asked. */
export type CaseLog = {
  readonly append: (draft: Draft) => Promise<Appended>;
  /** Settles differences between the homes. Only for the one that writes the case. */
  readonly read: () => Promise<CaseRows | Failed>;
  /**
   * Changes nothing, so that a second window may read while the first one writes, and nobody waits behind an entry that
   * cannot be saved. A writer's own rows are among it.
   */
  readonly peek: () => Promise<CaseRows | Failed>;
  /** Makes the case longer by rows of an import; `texts` are all its rows, checked before. */
  readonly extend: (texts: readonly string[]) => Promise<Extended>;
};

/** The rows that all homes are known to hold, as text. */
type Chain = {
  readonly ok: true;
  readonly texts: KeptTexts;
  last: Envelope | undefined;
  /** The place of each entry. */
  readonly ids: Map<string, number>;
};

/** What is known of a case between two questions. The functions below change it, in the order asked. */
type CaseState = Place & {
  /** Undefined until all homes are known to hold the same. */
  chain: Chain | undefined;
  /** Acknowledged rows, kept in mind as one more witness should the homes lose them while we run. */
  witness: KeptTexts;
  /** Sealed but not kept by all homes. Some may hold it, so it keeps its place and its text. */
  pending: Sealed | undefined;
  /** How many rows the caller knows of. More than that were written by somebody else. */
  seen: number | undefined;
};

/** What append and read promise stands at `Journal`. */
export function makeCaseLog(
  caseId: string,
  homes: readonly Home[],
  patience: Patience,
  lately: Lately<CheckedRows>,
): CaseLog {
  const state: CaseState = {
    ...{ caseId, homes, patience, lately },
    ...{ chain: undefined, witness: keepTexts([]), pending: undefined, seen: undefined },
  };
  let queue: Promise<unknown> = Promise.resolve();

  function inOrder<T>(work: () => Promise<T>): Promise<T> {
    const answer = queue.then(work);
    queue = answer.catch(() => undefined);
    return answer;
  }

  return {
    append: async (draft) => {
      const copied = copyDraft(draft);
      return copied.ok ? inOrder(() => append(state, copied.draft)) : copied;
    },
    read: () => inOrder(() => read(state)),
    peek: async () => lookUpTwice(state, await state.witness.all()),
    extend: (texts) => inOrder(() => extend(state, texts)),
  };
}

/** Looks into the homes, settles their differences, and takes the result as the chain. */
async function settle(state: CaseState): Promise<CaseRows | Failed> {
  state.chain = undefined;
  const found = await lookUp(state, await state.witness.all());
  if (!found.ok) return found;
  const { rows, texts } = found;
  const unmended = await reseed(state, found.reseed, texts, found.counts);
  if (unmended.length === 0 && found.unreadable.length === 0) {
    state.chain = chainOf(rows, texts);
    state.witness = state.chain.texts;
  }
  const said = [...found.reports, ...unmended.map((home) => report('home-failed', { home }))];
  return { ok: true, rows, texts, reports: said };
}

async function read(state: CaseState): Promise<CaseRows | Failed> {
  const answer = await settle(state);
  if (!answer.ok) return answer;
  // The caller learns here what became of an entry that failed, so it need not be offered again.
  state.pending = undefined;
  state.seen = answer.rows.length;
  return answer;
}

/** Makes the named homes hold just these texts; answers those that could not. */
async function reseed(
  { caseId, homes, patience }: CaseState,
  names: readonly string[],
  texts: readonly string[],
  counts: Found['counts'],
) {
  const unmended: string[] = [];
  for (const home of homes.filter(({ name }) => names.includes(name))) {
    const found = counts.get(home.name) ?? 0;
    const limitMs = limitFor(patience, Math.max(found, texts.length));
    const stored = await ask(home.name, limitMs, () => home.reseed(caseId, texts, found));
    if (!stored.ok) unmended.push(home.name);
  }
  return unmended;
}

async function settledChain(state: CaseState): Promise<Chain | Failed> {
  if (state.chain) return state.chain;
  const answer = await settle(state);
  if (!answer.ok) return fail('not-saved', { detail: answer.failure.code });
  // Nobody asked to read, so what was found is told.
  for (const said of answer.reports) state.patience.tell(state.caseId, said);
  return (
    state.chain ?? fail('not-saved', { detail: answer.reports.map(({ code }) => code).join(' ') })
  );
}

async function append(state: CaseState, draft: Draft): Promise<Appended> {
  if (state.pending && state.pending.envelope.id !== draft.id) return fail('earlier-unsaved');
  const whole = await settledChain(state);
  if (!whole.ok) return whole;
  const known = await rowOf(whole, draft.id);
  if (known) return answerWith(state, known, true);

  const { texts, last } = whole;
  state.seen ??= texts.count();
  if (texts.count() > state.seen) return fail('other-writer');
  if (last && draft.epoch < last.epoch) return fail('stale-writer');
  const kept =
    state.pending?.envelope.prev === (last?.hash ?? noPrevious) ? state.pending : undefined;
  const sealed = kept ?? (await seal(state.caseId, last, draft));
  return sealed.ok ? keep(state, sealed) : sealed;
}

async function keep(state: CaseState, sealed: Sealed): Promise<Appended> {
  state.pending = sealed;
  const { envelope, text } = sealed;
  const row = { caseId: state.caseId, seq: envelope.seq, text };
  let stored = await keepRow(state.homes, row, state.patience);
  if (!stored.ok && ['home-gap', 'home-taken'].includes(stored.failure.code)) {
    // A home lost rows while we run, or another window wrote. Settle that, then look again.
    state.chain = undefined;
    const whole = await settledChain(state);
    if (!whole.ok) return whole;
    const known = await rowOf(whole, envelope.id);
    if (known) return answerWith(state, known, false);
    if (whole.texts.count() !== envelope.seq - 1) {
      state.pending = undefined;
      return fail('other-writer');
    }
    stored = await keepRow(state.homes, row, state.patience);
  }
  if (!stored.ok) {
    const { code, detail = '' } = stored.failure;
    return fail('not-saved', { detail: `${code} ${detail}`.trim() });
  }
  const { chain } = state;
  assert(chain?.texts.count() === envelope.seq - 1, 'A row is kept right after the one before it.');
  chain.ids.set(envelope.id, chain.texts.count());
  chain.texts.push(text);
  chain.last = envelope;
  return answerWith(state, envelope, false);
}

function answerWith(state: CaseState, envelope: Envelope, again: boolean): Appended {
  state.pending = undefined;
  state.seen = Math.max(state.seen ?? 0, envelope.seq);
  return { ok: true, envelope, again };
}

/** Compared here and not before, since entries that wait in the queue may come in between. */
async function extend(state: CaseState, texts: readonly string[]): Promise<Extended> {
  const found = await lookUp(state, await state.witness.all());
  if (!found.ok) return found;
  const had = found.texts.length;
  const shared = found.texts.slice(0, texts.length);
  const differing = shared.findIndex((text, index) => text !== texts[index]);
  if (differing !== -1) return fail('other-history', { row: differing + 1 });
  if (had >= texts.length && found.reports.length === 0) return { ok: true, had };

  // Not read(): the caller has not been given these rows, so its next entry waits until it has.
  state.chain = undefined;
  if (had < texts.length) {
    const names = state.homes.map(({ name }) => name);
    const unmended = await reseed(state, names, texts, found.counts);
    if (unmended.length > 0) return fail('import-unsaved', { detail: unmended.join(' ') });
    state.witness = keepTexts(texts);
  }
  const settled = await settle(state);
  if (!settled.ok) return settled;
  return state.chain ? { ok: true, had } : fail('import-unsaved');
}

const chainOf = (rows: readonly Envelope[], texts: readonly string[]): Chain => ({
  ok: true,
  texts: keepTexts(texts),
  last: rows.at(-1),
  ids: new Map(rows.map(({ id }, index) => [id, index])),
});

/** The row of an entry that was recorded before, read back from its text. */
async function rowOf({ texts, ids }: Chain, id: string): Promise<Envelope | undefined> {
  const index = ids.get(id);
  if (index === undefined) return undefined;
  const parsed = parseEnvelope((await texts.at(index)) ?? '', index + 1);
  assert(parsed.ok, 'A row that was kept can be read back.');
  return parsed.envelope;
}
