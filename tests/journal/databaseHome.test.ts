import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { get, keys } from 'idb-keyval';
import { describe, expect, test, vi } from 'vitest';
import { committed, openDatabase } from '#journal/database.ts';
import { databaseHome } from '#journal/databaseHome.ts';
import { databaseKeeper } from '#journal/databaseKeeper.ts';
import { openJournal } from '#journal/openJournal.ts';
import { beginCleanly, endCleanly } from '#journal/rotateLog.ts';
import { draft } from '../support/drafts.ts';

function opened(factory = new IDBFactory()) {
  const database = openDatabase('test', factory);
  return { factory, database, home: databaseHome(database) };
}
const row = (seq: number, text = `row ${seq}`) => ({ caseId: 'case-1', seq, text });

describe('The database home', () => {
  test('keeps rows in order, and lists their cases', async () => {
    const { home, factory } = opened();
    for (const seq of [1, 2, 3]) expect(await home.append(row(seq))).toEqual({ ok: true });
    await home.append({ ...row(1), caseId: 'case-2' });
    const again = opened(factory).home;
    expect(await again.readAll('case-1')).toEqual({
      ok: true,
      texts: ['row 1', 'row 2', 'row 3'],
      damaged: false,
    });
    expect(await again.list()).toMatchObject({
      cases: [
        { caseId: 'case-1', rows: 3 },
        { caseId: 'case-2', rows: 1 },
      ],
    });
  });

  test('takes the same row twice, another in its place never, and no gap', async () => {
    const { home } = opened();
    await home.append(row(1));
    expect(await home.append(row(1))).toEqual({ ok: true });
    expect(await home.append(row(1, 'other'))).toMatchObject({ failure: { code: 'home-taken' } });
    expect(await home.append(row(3))).toMatchObject({ failure: { code: 'home-gap' } });
    expect(await home.readAll('case-1')).toMatchObject({ texts: ['row 1'] });
  });

  test('takes a row only right after the last one: not into a hole, and not before another', async () => {
    const { home, database } = opened();
    for (const seq of [1, 2, 3]) await home.append(row(seq));
    const change = (work: (rows: IDBObjectStore) => void) =>
      database.useStore('rows')('readwrite', (rows) => {
        const done = committed(rows.transaction);
        work(rows);
        return done;
      });
    await change((rows) => rows.delete(['case-1', 2]));
    expect(await home.append(row(2))).toMatchObject({ failure: { code: 'home-gap' } });
    await change((rows) => rows.delete(['case-1', 3]));
    expect(await home.append(row(3))).toMatchObject({ failure: { code: 'home-gap' } });
    expect(await home.append(row(2))).toEqual({ ok: true });
    await change((rows) => rows.delete(['case-1', 1]));
    expect(await home.append(row(1))).toMatchObject({ failure: { code: 'home-gap' } });
    expect(await home.readAll('case-1')).toMatchObject({ texts: ['row 2'] });
  });

  test('lists each case once, whatever its name, and not one that has no row left', async () => {
    const { home, database } = opened();
    const names = ['a', 'a-b', 'a.b', 'aa', 'B', '0', 'practice-1'];
    for (const caseId of names)
      for (const seq of [1, 2]) await home.append({ ...row(seq), caseId });
    expect(await databaseKeeper(database).remove('aa')).toEqual({ ok: true });
    const listed = await home.list();
    expect(listed.ok && listed.cases.map(({ caseId }) => caseId).sort()).toEqual(
      names.filter((name) => name !== 'aa').sort(),
    );
    expect(listed.ok && listed.cases.every(({ rows }) => rows === 2)).toBe(true);
  });

  test('writes with strict durability', async () => {
    const asked: unknown[] = [];
    const { home, factory } = opened();
    const { open } = factory;
    factory.open = (...parameters) => {
      const request = open.apply(factory, parameters);
      request.addEventListener('success', () => {
        const { transaction } = request.result;
        request.result.transaction = (names, mode, options) => {
          asked.push(options);
          return transaction.call(request.result, names, mode, options);
        };
      });
      return request;
    };
    await home.append(row(1));
    expect(asked).toEqual([{ durability: 'strict' }]);
  });

  test('is reseeded as a whole, and keeps aside what it had to give up', async () => {
    const { home, database } = opened();
    for (const seq of [1, 2, 3]) await home.append(row(seq));
    expect(await home.reseed('case-1', ['row 1', 'new 2'], 3)).toEqual({ ok: true });
    expect(await home.readAll('case-1')).toMatchObject({ texts: ['row 1', 'new 2'] });
    expect(await home.list()).toMatchObject({ cases: [{ rows: 2 }] });
    expect(await get(1, database.useStore('aside'))).toEqual({
      caseId: 'case-1',
      texts: ['row 2', 'row 3'],
    });
    expect(await home.readAside('case-1')).toMatchObject({ ok: true, texts: ['row 2', 'row 3'] });
    expect(await home.readAside('case-2')).toMatchObject({ ok: true, texts: [] });
    expect(await home.append(row(3))).toEqual({ ok: true });
  });

  test('is not reseeded if another window wrote since it was read', async () => {
    const { home } = opened();
    await home.append(row(1));
    await home.append(row(2));
    expect(await home.reseed('case-1', ['row 1'], 1)).toMatchObject({
      failure: { code: 'home-changed' },
    });
    expect(await home.readAll('case-1')).toMatchObject({ texts: ['row 1', 'row 2'] });
  });
});

describe('When the database fails, the home', () => {
  test('opens the database again after the connection was closed under it', async () => {
    const { home, factory } = opened();
    await home.append(row(1));
    // A window with a newer form asks for the database: the connection has to give way.
    const upgrade = factory.open('test', 2);
    await new Promise((resolve) => {
      upgrade.onsuccess = resolve;
    });
    upgrade.result.close();
    await expect(home.append(row(2))).rejects.toMatchObject({ name: 'VersionError' });

    const other = opened();
    await other.home.append(row(1));
    await other.home.close();
    expect(await other.home.append(row(2))).toEqual({ ok: true });
  });

  test('asks anew when the database does not open, and closes it if it opens late', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      const factory = new IDBFactory();
      const { open } = factory;
      const [closed, late] = [vi.fn(), { succeed: (): unknown => undefined }];
      factory.open = (...parameters) => {
        factory.open = open;
        const request = open.apply(factory, parameters);
        request.addEventListener('success', () => {
          request.result.close();
          request.result.close = closed;
        });
        // Whoever waits for this request waits until the test says so.
        Object.defineProperty(request, 'onsuccess', {
          set: (listener) => {
            late.succeed = listener;
          },
        });
        return request;
      };
      const answer = opened(factory).home.append(row(1));
      await vi.advanceTimersByTimeAsync(4000);
      expect(await answer).toEqual({ ok: true });
      expect(closed).not.toHaveBeenCalled();
      late.succeed();
      await expect.poll(() => closed.mock.calls.length).toBe(1);
    } finally {
      vi.useRealTimers();
    }
  });

  test('acknowledges nothing that is aborted after all its requests succeeded', async () => {
    const { home, database, factory } = opened();
    const aborting: typeof database = {
      ...database,
      useStore: (name, also) => (mode, callback) =>
        database.useStore(name, also)(mode, (store) => {
          // As when the disk is full: no request fails, only the transaction.
          store.transaction.commit = () => store.transaction.abort();
          return callback(store);
        }),
    };
    await home.append(row(1));
    await expect(databaseHome(aborting).append(row(2))).rejects.toMatchObject({
      name: 'AbortError',
    });
    expect(await opened(factory).home.readAll('case-1')).toMatchObject({ texts: ['row 1'] });
  });

  test('gives the true reason when a transaction is aborted', async () => {
    const { database } = opened();
    const writing = database.useStore('rows')('readwrite', (rows) => {
      const done = committed(rows.transaction);
      rows.add('one', ['case-1', 1]);
      rows.add('two', ['case-1', 1]);
      return done;
    });
    await expect(writing).rejects.toMatchObject({ name: 'ConstraintError' });
  });

  test('serves a journal, whose rows are there after a restart', async () => {
    const { home, factory } = opened();
    const journal = openJournal({ homes: [home] });
    const answers = [
      await journal.append('case-1', draft(1)),
      await journal.append('case-1', draft(2)),
    ];
    await journal.close();
    const read = await openJournal({ homes: [opened(factory).home] }).readCase('case-1');
    expect(read).toMatchObject({
      ok: true,
      rows: answers.map((answer) => (answer.ok ? answer.envelope : undefined)),
      reports: [],
    });
  });
});

describe('After a shutdown', () => {
  const fillings = (factory: IDBFactory) => {
    const { database } = opened(factory);
    const sizes: number[] = [];
    const counted: typeof database = {
      ...database,
      useStore: (name, also) => (mode, callback) =>
        database.useStore(name, also)(mode, (store) => {
          const { put } = store;
          store.put = (value, key) => {
            if (name === 'filler') sizes.push(value.byteLength);
            return put.call(store, value, key);
          };
          return callback(store);
        }),
    };
    return { database: counted, sizes };
  };

  test('that was clean, nothing is filled in', async () => {
    const factory = new IDBFactory();
    const first = fillings(factory);
    await beginCleanly(first.database);
    await endCleanly(first.database);
    const second = fillings(factory);
    await beginCleanly(second.database);
    expect([...first.sizes, ...second.sizes]).toEqual([]);
  });

  test('that was not clean, six megabytes are written and deleted', async () => {
    const factory = new IDBFactory();
    await beginCleanly(fillings(factory).database);
    const { database, sizes } = fillings(factory);
    await beginCleanly(database);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(6_000_000);
    expect(Math.max(...sizes)).toBeLessThan(64 * 1024);
    expect(await keys(database.useStore('filler'))).toEqual([]);
  });
});
