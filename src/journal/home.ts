import { Fault } from '#engine/assert.ts';
import { type Failed, fail } from './failures.ts';

/** A row as homes keep it: the canonical JSON of an envelope, and where it belongs. */
export type Row = { readonly caseId: string; readonly seq: number; readonly text: string };

export type Stored = { readonly ok: true } | Failed;

/** All that a home holds of a case. `damaged`: something follows that could not be read. */
export type Held =
  | { readonly ok: true; readonly texts: readonly string[]; readonly damaged: boolean }
  | Failed;

/** `rows` is missing where it would cost a reading of the case. */
export type Listed = { readonly caseId: string; readonly rows?: number };
export type List = { readonly ok: true; readonly cases: readonly Listed[] } | Failed;

/**
 * A place where rows are kept. The journal writes every row to all its homes.
 *
 * Rules: `append` answers ok only when the row would survive a power cut; the same row twice is ok;
 * another row in its place is home-taken; a row that does not follow is home-gap. `reseed` leaves
 * exactly the given rows, and sets aside what it would have to throw away; if it fails, what was there
 * and is among the given rows is still there. It is refused (home-changed) if the case no longer has
 * the number of readable rows it was found with, since another window may be writing.
 */
export type Home = {
  readonly name: string;
  readonly append: (row: Row) => Promise<Stored>;
  readonly readAll: (caseId: string) => Promise<Held>;
  /** What reseeding set aside of a case, as far as it can be read. */
  readonly readAside: (caseId: string) => Promise<Held>;
  readonly list: () => Promise<List>;
  readonly reseed: (caseId: string, texts: readonly string[], found: number) => Promise<Stored>;
  readonly close: () => Promise<void>;
};

/**
 * Asks a home, with a limit to the waiting; what the browser throws becomes a failure here.
 *
 * Fails: home-failed, home-silent. The home may then have done the work or not.
 * Throws: Fault, if the home has a bug.
 */
export async function ask<T extends { readonly ok: true }>(
  home: string,
  limitMs: number,
  call: () => Promise<T | Failed>,
): Promise<T | Failed> {
  let late: ReturnType<typeof setTimeout> | undefined;
  const silence = new Promise<Failed>((resolve) => {
    late = setTimeout(() => resolve(fail('home-silent', { home })), limitMs);
  });
  try {
    return await Promise.race([call(), silence]);
  } catch (error) {
    if (error instanceof Fault) throw error;
    return fail('home-failed', { home, detail: String(error) });
  } finally {
    clearTimeout(late);
  }
}
