import { promisifyRequest } from 'idb-keyval';
import { committed, type Database, storeNames } from './database.ts';
import { fail } from './failures.ts';
import type { Held, Home, List, Row, Stored } from './home.ts';
import { isRecord } from './parseEnvelope.ts';

const home = 'database';

/** Keeps rows in IndexedDB: one transaction a row, strict, and never over a row that is there. */
export function databaseHome(database: Database): Home {
  const useRows = database.useStore('rows', ['cases']);
  const useRowsAndAside = database.useStore('rows', ['cases', 'aside']);
  const useCases = database.useStore('cases');
  const useAside = database.useStore('aside');

  const readAll = (caseId: string): Promise<Held> =>
    useRows('readonly', async (rows): Promise<Held> => {
      const texts = await promisifyRequest<unknown[]>(rows.getAll(rangeOf(caseId)));
      return { ok: true, texts: texts.map(asText), damaged: false };
    });

  const readAside = (caseId: string): Promise<Held> =>
    useAside('readonly', async (aside): Promise<Held> => {
      const all = await promisifyRequest<unknown[]>(aside.getAll());
      return { ok: true, texts: all.flatMap((one) => textsOf(one, caseId)), damaged: false };
    });

  const list = (): Promise<List> =>
    useCases('readonly', async (cases): Promise<List> => {
      const [keys, counts] = await Promise.all([
        promisifyRequest<IDBValidKey[]>(cases.getAllKeys()),
        promisifyRequest<unknown[]>(cases.getAll()),
      ]);
      const listed = keys.map((key, index) => ({
        caseId: String(key),
        rows: Number(counts[index]),
      }));
      return { ok: true, cases: listed };
    });

  const reseed = (caseId: string, texts: readonly string[], found: number): Promise<Stored> =>
    useRowsAndAside('readwrite', async (rows): Promise<Stored> => {
      const done = committed(rows.transaction);
      const range = rangeOf(caseId);
      const there = (await promisifyRequest<unknown[]>(rows.getAll(range))).map(asText);
      const isAsFound = there.length === found;
      if (isAsFound) {
        const lost = there.filter((text, index) => text !== texts[index]);
        if (lost.length > 0) await setAside(rows.transaction, { caseId, texts: lost });
        rows.delete(range);
        for (const [index, text] of texts.entries()) rows.add(text, [caseId, index + 1]);
        rows.transaction.objectStore(storeNames.cases).put(texts.length, caseId);
      }
      await done;
      return isAsFound ? { ok: true } : fail('home-changed', { home });
    });

  const close = async () => database.close();
  const append = (row: Row) => useRows('readwrite', (rows) => appendTo(rows, row));
  return { name: home, append, readAll, readAside, list, reseed, close };
}

async function appendTo(rows: IDBObjectStore, { caseId, seq, text }: Row): Promise<Stored> {
  const { transaction } = rows;
  const done = committed(transaction);
  const cases = transaction.objectStore(storeNames.cases);
  // All is asked at once, since each way to the database and back is waited for. What was written
  // although it may not be is taken back before anything of it is on disk.
  const there = rows.get([caseId, seq]);
  const count = cases.get(caseId);
  rows.add(text, [caseId, seq]);
  cases.put(seq, caseId);
  let [answer, isTakenBack]: [Stored | undefined, boolean] = [undefined, false];
  count.onsuccess = () => {
    const instead = whyNot({ there: there.result, count: count.result }, { seq, text });
    answer = instead ?? { ok: true };
    isTakenBack = instead !== undefined;
    if (isTakenBack) transaction.abort();
    else transaction.commit();
  };
  await done.catch((error) => {
    if (!isTakenBack) throw error;
  });
  return answer ?? fail('home-failed', { home });
}

/** What stands in the way of a row, or that it is there already; undefined where it follows. */
function whyNot(
  { there, count }: { readonly there: unknown; readonly count: unknown },
  { seq, text }: Omit<Row, 'caseId'>,
): Stored | undefined {
  if (there !== undefined) return there === text ? { ok: true } : fail('home-taken', { home });
  return (count ?? 0) === seq - 1 ? undefined : fail('home-gap', { home });
}

/** An array sorts after every number, so this is the end of the case. */
export const rangeOf = (caseId: string): IDBKeyRange =>
  IDBKeyRange.bound([caseId, 0], [caseId, []]);

/** What is no text was damaged; as an empty text it fails the check of the rows like any other damage. */
const asText = (value: unknown): string => (typeof value === 'string' ? value : '');

/** The texts in what `setAside` put away, if it is of this case. */
function textsOf(what: unknown, caseId: string): readonly string[] {
  if (!isRecord(what) || what.caseId !== caseId || !Array.isArray(what.texts)) return [];
  return what.texts.map(asText);
}

async function setAside(transaction: IDBTransaction, what: unknown): Promise<void> {
  const aside = transaction.objectStore(storeNames.aside);
  const keys = await promisifyRequest<IDBValidKey[]>(aside.getAllKeys());
  // Not the number of them: some may have been taken away since.
  aside.add(what, Math.max(0, ...keys.map(Number)) + 1);
}

/** Under which keys something was set aside of a case. */
export async function asideOf(
  aside: IDBObjectStore,
  caseId: string,
): Promise<readonly IDBValidKey[]> {
  const [keys, all] = await Promise.all([
    promisifyRequest<IDBValidKey[]>(aside.getAllKeys()),
    promisifyRequest<unknown[]>(aside.getAll()),
  ]);
  return keys.filter((_, index) => {
    const what = all[index];
    return isRecord(what) && what.caseId === caseId;
  });
}
