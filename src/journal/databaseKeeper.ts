import { promisifyRequest } from 'idb-keyval';
import { committed, type Database, storeNames } from './database.ts';
import { asideOf, rangeOf } from './databaseHome.ts';
import type { Stored } from './home.ts';
import type { Keeper, NotesHeld } from './keeper.ts';

/** Notes stand among the memory of screens, under names of their own. */
const prefix = 'note/';

/** Keeps notes in IndexedDB and takes cases away there: one strict transaction each. */
export function databaseKeeper(database: Database): Keeper {
  const useMeta = database.useStore('meta');
  const useRowsAndAside = database.useStore('rows', ['aside']);

  const change = (work: (meta: IDBObjectStore) => void): Promise<Stored> =>
    useMeta('readwrite', async (meta): Promise<Stored> => {
      const done = committed(meta.transaction);
      work(meta);
      await done;
      return { ok: true };
    });

  const readNotes = (): Promise<NotesHeld> =>
    useMeta('readonly', async (meta): Promise<NotesHeld> => {
      const range = IDBKeyRange.bound(prefix, `${prefix}\uffff`);
      const [keys, texts] = await Promise.all([
        promisifyRequest<IDBValidKey[]>(meta.getAllKeys(range)),
        promisifyRequest<unknown[]>(meta.getAll(range)),
      ]);
      const notes = keys.map(
        (key, index) => [String(key).slice(prefix.length), String(texts[index])] as const,
      );
      return { ok: true, notes };
    });

  const remove = (caseId: string): Promise<Stored> =>
    useRowsAndAside('readwrite', async (rows): Promise<Stored> => {
      const done = committed(rows.transaction);
      const aside = rows.transaction.objectStore(storeNames.aside);
      rows.delete(rangeOf(caseId));
      for (const key of await asideOf(aside, caseId)) aside.delete(key);
      await done;
      return { ok: true };
    });

  return {
    readNotes,
    putNote: (name, text) => change((meta) => meta.put(text, prefix + name)),
    dropNote: (name) => change((meta) => meta.delete(prefix + name)),
    remove,
  };
}
