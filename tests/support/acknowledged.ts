import { expect } from 'vitest';
import type { Envelope } from '#engine/history/envelope.ts';
import type { Home } from '#journal/home.ts';
import { type Journal, openJournal } from '#journal/openJournal.ts';
import { draft } from './drafts.ts';

export const quick = { limitMs: 1000, noticeMs: 900, pausesMs: [1, 1] };

/** Offers entries 1 to `last`, each at most twice, and answers the rows that were acknowledged. */
export async function recordEntries(
  journal: Journal,
  last: number,
  caseId = 'case-1',
): Promise<readonly Envelope[]> {
  const acknowledged: Envelope[] = [];
  for (let n = 1; n <= last; n += 1) {
    const first = await journal.append(caseId, draft(n));
    const answer = first.ok ? first : await journal.append(caseId, draft(n));
    if (!answer.ok) break;
    acknowledged.push(answer.envelope);
  }
  return acknowledged;
}

/**
 * Opens the same storage anew and sees that every acknowledged row is there, that the rows are whole
 * entries in the order offered, and that both homes then hold the same.
 */
export async function expectNothingLost(
  homes: readonly Home[],
  acknowledged: readonly Envelope[],
  caseId = 'case-1',
): Promise<void> {
  const journal = openJournal({ homes, patience: quick });
  const read = await journal.readCase(caseId);
  if (!read.ok) throw new Error(read.failure.code);
  expect(read.rows.slice(0, acknowledged.length)).toEqual(acknowledged);
  expect(read.rows.length - acknowledged.length).toBeLessThanOrEqual(1);
  expect(read.rows.map(({ id }) => id)).toEqual(read.rows.map(({ seq }) => draft(seq).id));
  const held = await Promise.all(homes.map((home) => home.readAll(caseId)));
  for (const one of held)
    expect(one).toMatchObject({ ok: true, texts: read.texts, damaged: false });
}
