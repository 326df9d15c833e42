import type { CaseLog } from './caseLog.ts';
import { type Failed, fail, type Report, report } from './failures.ts';
import { ask, type Home, type Listed } from './home.ts';

/** The book of the tablet is kept as a case is, and is none: it is not listed, nor brought in, nor taken out. */
export const bookId = 'tablet-book';

export type CaseList =
  | {
      readonly ok: true;
      readonly cases: readonly Required<Listed>[];
      /** A home that did not answer: cases that only it holds are not in the list. */
      readonly reports: readonly Report[];
    }
  | Failed;
/** What was set aside of a case, home by home. Not checked: the rows may be damaged or a fork. */
export type Aside =
  | {
      readonly ok: true;
      readonly copies: readonly { readonly home: string; readonly texts: readonly string[] }[];
      readonly reports: readonly Report[];
    }
  | Failed;

/**
 * The cases of all homes, each once, by name. Where no home counts rows, the case is read.
 *
 * Fails: cannot-read.
 */
export async function listAll(
  homes: readonly Home[],
  limitMs: number,
  logOf: (caseId: string) => CaseLog,
): Promise<CaseList> {
  const lists = await Promise.all(homes.map((home) => ask(home.name, limitMs, home.list)));
  if (!lists.some(({ ok }) => ok)) return fail('cannot-read');
  const found = new Map<string, number | undefined>();
  for (const { caseId, rows } of lists.flatMap((list) => (list.ok ? list.cases : []))) {
    const known = found.get(caseId);
    found.set(caseId, rows === undefined ? known : Math.max(known ?? 0, rows));
  }
  found.delete(bookId);
  const cases: Required<Listed>[] = [];
  for (const [caseId, counted] of found) {
    const read = counted === undefined ? await logOf(caseId).peek() : undefined;
    // A file that was made and never written to: the first entry of that case was never kept.
    if (read?.ok && read.rows.length === 0 && read.reports.length === 0) continue;
    cases.push({ caseId, rows: counted ?? (read?.ok ? read.rows.length : 0) });
  }
  cases.sort((a, b) => (a.caseId < b.caseId ? -1 : 1));
  return { ok: true, cases, reports: silentOnes(homes, lists) };
}

/** What all homes set aside of a case. Fails: cannot-read. */
export async function collectAside(
  homes: readonly Home[],
  limitMs: number,
  caseId: string,
): Promise<Aside> {
  const answers = await Promise.all(
    homes.map((home) => ask(home.name, limitMs, () => home.readAside(caseId))),
  );
  if (!answers.some(({ ok }) => ok)) return fail('cannot-read');
  const copies = answers.flatMap((held, index) =>
    held.ok && held.texts.length > 0 ? [{ home: homes[index]?.name ?? '', texts: held.texts }] : [],
  );
  return { ok: true, copies, reports: silentOnes(homes, answers) };
}

const silentOnes = (homes: readonly Home[], answers: readonly { readonly ok: boolean }[]) =>
  homes
    .filter((_, index) => answers[index]?.ok === false)
    .map(({ name }) => report('home-unreadable', { home: name }));
