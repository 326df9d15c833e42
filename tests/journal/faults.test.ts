import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { type Database, openDatabase } from '#journal/database.ts';
import { databaseHome } from '#journal/databaseHome.ts';
import { fileStore } from '#journal/fileStore.ts';
import { openJournal } from '#journal/openJournal.ts';
import { expectNothingLost, quick, recordEntries } from '../support/acknowledged.ts';
import { type FileMishap, memoryDirectory } from '../support/memoryDirectory.ts';
import { type Mishap, memoryHome } from '../support/memoryHome.ts';

/** How long a mishap lasts that begins at a call. */
const lasting = { once: 1, 'three times': 3, 'for ever': Infinity } as const;
const lengths = Object.entries(lasting);
const entries = 4;

/** Lets a run fail at its first call, at its second, and so on until none is left to fail. */
async function atEveryCall(run: (call: number) => Promise<number>): Promise<void> {
  let call = 1;
  while ((await run(call)) >= call) call += 1;
  expect(call).toBeGreaterThan(entries);
}

describe('Whichever call of a home goes wrong, nothing acknowledged is lost and nothing is half', () => {
  const mishaps: readonly Mishap[] = ['refuses', 'throws', 'forgets-to-say'];
  const cases = mishaps.flatMap((mishap) =>
    lengths.flatMap(([name, length]) => [
      { mishap, name, length, both: false },
      { mishap, name, length, both: true },
    ]),
  );

  test.each(cases)('it $mishap, $name, in both homes: $both', async ({ mishap, length, both }) => {
    await atEveryCall(async (call) => {
      const goesWrong = (now: number) => (now >= call && now < call + length ? mishap : undefined);
      const database = memoryHome('database', undefined, both ? goesWrong : undefined);
      const file = memoryHome('file', undefined, goesWrong);
      const journal = openJournal({ homes: [database, file], patience: quick });
      const acknowledged = await recordEntries(journal, entries);
      if (length < quick.pausesMs.length + 1) expect(acknowledged).toHaveLength(entries);
      const anew = [memoryHome('database', database.cases), memoryHome('file', file.cases)];
      await expectNothingLost(anew, acknowledged);
      return file.calls();
    });
  });
});

describe('Whichever call of a file goes wrong, nothing acknowledged is lost and nothing is half', () => {
  const mishaps: readonly FileMishap[] = ['throws', 'writes-half'];
  const cases = mishaps.flatMap((mishap) =>
    lengths.flatMap(([name, length]) =>
      [0, 0.5, 1].map((part) => ({ mishap, name, length, part })),
    ),
  );

  test.each(cases)(
    'it $mishap, $name, and then power is cut with $part of the rest on disk',
    async ({ mishap, length, part }) => {
      await atEveryCall(async (call) => {
        const directory = memoryDirectory((now) =>
          now >= call && now < call + length ? mishap : undefined,
        );
        const database = memoryHome('database');
        const homes = [database, fileStore(directory)];
        const journal = openJournal({ homes, patience: quick });
        const acknowledged = await recordEntries(journal, entries);
        directory.cutPower(part);

        // The database may be lost as a whole: the file alone must do.
        const alone = fileStore(memoryDirectory(undefined, structuredClone(directory.files)));
        await expectNothingLost([memoryHome('database'), alone], acknowledged);
        const file = fileStore(memoryDirectory(undefined, directory.files));
        await expectNothingLost([memoryHome('database', database.cases), file], acknowledged);
        return directory.calls();
      });
    },
  );
});

describe('Whichever transaction goes wrong, nothing acknowledged is lost and nothing is half', () => {
  const cases = lengths.flatMap(([name, length]) =>
    (['before', 'after'] as const).map((when) => ({ name, length, when })),
  );

  test.each(cases)('it throws $when its work, $name', async ({ length, when }) => {
    await atEveryCall(async (call) => {
      const factory = new IDBFactory();
      let calls = 0;
      const database = failingDatabase(openDatabase('test', factory), when, () => {
        calls += 1;
        return calls >= call && calls < call + length;
      });
      const file = memoryHome('file');
      const journal = openJournal({ homes: [databaseHome(database), file], patience: quick });
      const acknowledged = await recordEntries(journal, entries);
      const anew = databaseHome(openDatabase('test', factory));
      // The files may be lost as a whole: the database alone must do.
      await expectNothingLost([anew, memoryHome('file')], acknowledged);
      await expectNothingLost([anew, memoryHome('file', file.cases)], acknowledged);
      return calls;
    });
  });
});

/** A database whose transactions throw when told to. */
const failingDatabase = (
  database: Database,
  when: 'before' | 'after',
  isTurn: () => boolean,
): Database => ({
  ...database,
  useStore: (name, also) => async (mode, callback) => {
    const fails = isTurn();
    if (fails && when === 'before') throw new DOMException('Connection lost', 'UnknownError');
    const answer = await database.useStore(name, also)(mode, callback);
    if (fails) throw new DOMException('Connection lost', 'UnknownError');
    return answer;
  },
});
