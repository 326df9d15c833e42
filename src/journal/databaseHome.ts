import { promisifyRequest } from 'idb-keyval';
import { committed, type Database, storeNames } from './database.ts';
import { fail } from './failures.ts';
import type { Held, Home, List, Listed, Row, Stored } from './home.ts';
import { isRecord } from './parseEnvelope.ts';

const home = 'database';

/** Keeps rows in IndexedDB: one transaction a row, strict, and never over a row that is there. */
export function databaseHome(database: Database): Home {
  const useRows = database.useStore('rows');
  const useRowsAndAside = database.useStore('rows', ['aside']);
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
    useRows('readonly', async (rows): Promise<List> => {
      const listed: Required<Listed>[] = [];
      let caseId = caseOf(await promisifyRequest(rows.getKey(after())));
      while (caseId !== undefined) {
        const [count, next] = await Promise.all([
          promisifyRequest(rows.count(rangeOf(caseId))),
          promisifyRequest(rows.getKey(after(caseId))),
        ]);
        listed.push({ caseId, rows: count });
        caseId = caseOf(next);
      }
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
      }
      await done;
      return isAsFound ? { ok: true } : fail('home-changed', { home });
    });

  const close = async () => database.close();
  async function append(row: Row): Promise<Stored> {
    const isAdded = await useRows('readwrite', (rows) => appendTo(rows, row));
    if (isAdded) return { ok: true };
    const key = [row.caseId, row.seq];
    const there = await useRows('readonly', (rows) => promisifyRequest<unknown>(rows.get(key)));
    if (there === undefined) return fail('home-gap', { home });
    return there === row.text ? { ok: true } : fail('home-taken', { home });
  }

  return { name: home, append, readAll, readAside, list, reseed, close };
}

/**
 * Adds a row where it follows on the last; answers false where it does not, or stands there already. Both requests
 * are sent at once, since each way to the database and back is waited for: what was added although it does not
 * follow is taken back before anything of it is on disk.
 */
async function appendTo(rows: IDBObjectStore, { caseId, seq, text }: Row): Promise<boolean> {
  const { transaction } = rows;
  const done = committed(transaction);
  // The row before, and nothing after it.
  const last = rows.getAllKeys(IDBKeyRange.bound([caseId, seq - 1], [caseId, []]), 2);
  rows.add(text, [caseId, seq]);
  let follows: boolean | undefined;
  last.onsuccess = () => {
    const before = last.result.map((key) => seqOf(key));
    follows = seq === 1 ? before.length === 0 : before.length === 1 && before[0] === seq - 1;
    if (follows) transaction.commit();
    else transaction.abort();
  };
  await done.catch((error) => {
    if (follows !== false) throw error;
  });
  return follows === true;
}

const seqOf = (key: unknown): unknown => (Array.isArray(key) ? key[1] : undefined);

const caseOf = (key: unknown): string | undefined =>
  Array.isArray(key) ? String(key[0]) : undefined;

/** All rows, or those of the cases that come after this one. */
const after = (caseId = ''): IDBKeyRange => IDBKeyRange.bound([caseId, []], [[]]);

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
