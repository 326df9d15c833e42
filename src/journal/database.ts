import { promisifyRequest, type UseStore } from 'idb-keyval';

/** Object stores of the database, and what they are keyed by. */
export const storeNames = {
  /** [caseId, seq] → the text of the row. */
  rows: 'rows',
  /** Not used any more: kept, since an older program in another window begins its transactions with it. */
  cases: 'cases',
  /** A number → what a mending would have thrown away. */
  aside: 'aside',
  /** Whether the last shutdown was clean. */
  meta: 'meta',
  /** Written and deleted at once, see `rotateLog`. */
  filler: 'filler',
} as const;

/** A browser may never answer. The second try still has to begin before the user is told. */
const openLimitMs = 4000;

type StoreName = keyof typeof storeNames;

export type Database = {
  /** A way in for idb-keyval or for raw requests. `also` widens the transaction to other stores. */
  readonly useStore: (name: StoreName, also?: readonly StoreName[]) => UseStore;
  /** Whether the browser says that it threw away what was there. Known once something was asked. */
  readonly wasWiped: () => boolean;
  readonly close: () => void;
};

/**
 * One database with several stores, opened when first used, again after the connection was lost, and
 * with strict durability: a write is done when it is on disk.
 *
 * Fails: as IndexedDB does, by a rejected promise.
 */
export function openDatabase(name: string, factory: IDBFactory): Database {
  let opening: Promise<IDBDatabase> | undefined;
  let isWiped = false;

  function drop(): void {
    opening = undefined;
  }

  function open(): Promise<IDBDatabase> {
    opening ??= connect(factory, name, drop, () => {
      isWiped = true;
    });
    opening.catch(drop);
    return opening;
  }

  /** A connection may be dead without an event, so one that throws is replaced once. */
  async function begin(names: readonly StoreName[], mode: IDBTransactionMode) {
    try {
      return (await open()).transaction(names, mode, { durability: 'strict' });
    } catch {
      drop();
      return (await open()).transaction(names, mode, { durability: 'strict' });
    }
  }

  const useStore =
    (store: StoreName, also: readonly StoreName[] = []): UseStore =>
    async (mode, callback) => {
      try {
        return await callback((await begin([store, ...also], mode)).objectStore(store));
      } catch (error) {
        // A full disk or a lost server leaves a connection on which nothing works any more.
        if (error instanceof DOMException && error.name !== 'ConstraintError') await disconnect();
        throw error;
      }
    };

  async function disconnect(): Promise<void> {
    const old = opening;
    drop();
    await old?.then((database) => database.close()).catch(() => undefined);
  }

  return { useStore, wasWiped: () => isWiped, close: () => void disconnect() };
}

async function connect(
  factory: IDBFactory,
  name: string,
  onLost: () => void,
  onWiped: () => void,
): Promise<IDBDatabase> {
  const request = factory.open(name, 1);
  request.onupgradeneeded = (event) => {
    if (saysWiped(event)) onWiped();
    for (const store of Object.values(storeNames)) request.result.createObjectStore(store);
  };
  const opened = promisifyRequest(request);
  let late: ReturnType<typeof setTimeout> | undefined;
  const given = new Promise<never>((_, reject) => {
    const giveUp = (sentence: string) => {
      opened.then((database) => database.close()).catch(() => undefined);
      reject(new DOMException(sentence, 'InvalidStateError'));
    };
    request.onblocked = () => giveUp('Another window holds the database open');
    late = setTimeout(giveUp, openLimitMs, 'The database does not open');
  });
  const database = await Promise.race([opened, given]).finally(() => clearTimeout(late));
  database.onclose = onLost;
  // Another window brings a newer form of the database; an open connection would block it for ever.
  database.onversionchange = () => {
    database.close();
    onLost();
  };
  return database;
}

/** Chromium says here that it found the database damaged and deleted it; seen with version 156. */
const saysWiped = (event: IDBVersionChangeEvent): boolean =>
  'dataLoss' in event && event.dataLoss === 'total';

/**
 * Resolves when the transaction is on disk; rejects with the reason. idb-keyval 6.3 rejects with null
 * here, because it listens to an event that comes before the reason is known.
 */
export function committed(transaction: IDBTransaction): Promise<void> {
  const done = new Promise<void>((resolve, reject) => {
    transaction.addEventListener('complete', () => resolve());
    transaction.addEventListener('abort', () =>
      reject(transaction.error ?? new DOMException('The transaction was aborted', 'AbortError')),
    );
  });
  // A request that fails may be heard of first; this promise is then never looked at.
  done.catch(() => undefined);
  return done;
}
