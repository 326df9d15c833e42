import { fail } from '#journal/failures.ts';
import type { Held, Home, List, Row, Stored } from '#journal/home.ts';

/** What a home does wrong when its turn comes. */
export type Mishap =
  /** Answers that it failed, and has done nothing. */
  | 'refuses'
  /** Throws, and has done nothing. */
  | 'throws'
  /** Has done the work, and answers that it failed. */
  | 'forgets-to-say';

export type MemoryHome = Home & {
  /** What is kept, case by case. Tests may damage it. */
  readonly cases: Map<string, string[]>;
  readonly calls: () => number;
};

/**
 * A home in memory. `mishapAt` is asked before each call, counted from 1, for what goes wrong in it.
 * A second home on the same `cases` is the same storage opened anew.
 */
export function memoryHome(
  name: string,
  cases = new Map<string, string[]>(),
  mishapAt: (call: number) => Mishap | undefined = () => undefined,
): MemoryHome {
  const aside = new Map<string, readonly string[]>();
  let calls = 0;

  async function run<T extends Stored | Held | List>(work: () => T) {
    calls += 1;
    const mishap = mishapAt(calls);
    await Promise.resolve();
    if (mishap === 'refuses') return fail('home-failed', { home: name });
    if (mishap === 'throws') throw new DOMException('Connection lost', 'UnknownError');
    const answer = work();
    return mishap === 'forgets-to-say' ? fail('home-failed', { home: name }) : answer;
  }

  function append({ caseId, seq, text }: Row): Stored {
    const rows = cases.get(caseId) ?? [];
    const there = rows[seq - 1];
    if (there === text) return { ok: true };
    if (there !== undefined) return fail('home-taken', { home: name });
    if (rows.length !== seq - 1) return fail('home-gap', { home: name });
    cases.set(caseId, [...rows, text]);
    return { ok: true };
  }

  function reseed(caseId: string, texts: readonly string[], found: number): Stored {
    const rows = cases.get(caseId) ?? [];
    if (rows.length !== found) return fail('home-changed', { home: name });
    const lost = rows.filter((text, index) => text !== texts[index]);
    aside.set(caseId, [...(aside.get(caseId) ?? []), ...lost]);
    cases.set(caseId, [...texts]);
    return { ok: true };
  }

  return {
    name,
    cases,
    calls: () => calls,
    append: (row) => run(() => append(row)),
    readAll: (caseId) =>
      run(() => ({ ok: true, texts: [...(cases.get(caseId) ?? [])], damaged: false })),
    readAside: (caseId) =>
      run(() => ({ ok: true, texts: aside.get(caseId) ?? [], damaged: false })),
    list: () =>
      run(() => ({
        ok: true,
        cases: [...cases].map(([caseId, rows]) => ({ caseId, rows: rows.length })),
      })),
    reseed: (caseId, texts, found) => run(() => reseed(caseId, texts, found)),
    close: async () => undefined,
  };
}
