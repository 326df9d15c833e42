import { describe, expect, test } from 'vitest';
import { noPrevious } from '#engine/history/envelope.ts';
import type { Draft } from '#journal/chain.ts';
import { fail } from '#journal/failures.ts';
import { type Journal, openJournal } from '#journal/openJournal.ts';
import { draft } from '../support/drafts.ts';
import { type MemoryHome, type Mishap, memoryHome } from '../support/memoryHome.ts';

const patience = { limitMs: 500, noticeMs: 400, pausesMs: [1, 1] };
const opened = () => {
  const database = memoryHome('database');
  const file = memoryHome('file');
  return { database, file, journal: openJournal({ homes: [database, file], patience }) };
};

async function saved(journal: Journal, entry: Draft, caseId = 'case-1') {
  const answer = await journal.append(caseId, entry);
  if (!answer.ok) throw new Error(answer.failure.code);
  return answer.envelope;
}

describe('An entry', () => {
  test('is numbered, chained to the one before, and kept in both homes', async () => {
    const { journal, database, file } = opened();
    const first = await saved(journal, draft(1));
    const second = await saved(journal, draft(2));
    expect(first).toMatchObject({ v: 1, caseId: 'case-1', seq: 1, prev: noPrevious, ...draft(1) });
    expect(second).toMatchObject({ seq: 2, prev: first.hash });
    expect(database.cases.get('case-1')).toHaveLength(2);
    expect(file.cases.get('case-1')).toEqual(database.cases.get('case-1'));
  });

  test('is read back as it was acknowledged', async () => {
    const { journal } = opened();
    const rows = [await saved(journal, draft(1)), await saved(journal, draft(2))];
    expect(await journal.readCase('case-1')).toMatchObject({ ok: true, rows, reports: [] });
  });

  test('with an id that is recorded gives the row of the first time', async () => {
    const { journal, database } = opened();
    const first = await saved(journal, draft(1));
    await saved(journal, draft(2));
    const again = await journal.append('case-1', draft(1, { at: '2031-03-05T09:00:00Z' }));
    expect(again).toEqual({ ok: true, envelope: first, again: true });
    expect(database.cases.get('case-1')).toHaveLength(2);
  });

  test('with an id that is recorded is known after a restart too', async () => {
    const { journal, database, file } = opened();
    const first = await saved(journal, draft(1));
    const restarted = openJournal({ homes: [database, file], patience });
    expect(await restarted.append('case-1', draft(1))).toEqual({
      ok: true,
      envelope: first,
      again: true,
    });
  });

  test('waits for the entries of its case that were offered before it', async () => {
    const { journal } = opened();
    const rows = await Promise.all([1, 2, 3, 4, 5].map((n) => saved(journal, draft(n))));
    expect(rows.map(({ seq, id }) => `${seq} ${id}`)).toEqual(
      [1, 2, 3, 4, 5].map((n) => `${n} command-${n}`),
    );
  });

  test('is not changed by a caller that changes its events while they are written', async () => {
    const { journal } = opened();
    const events = [{ type: 'moved', n: 1 }];
    const answer = journal.append('case-1', draft(1, { events }));
    await Promise.resolve();
    for (const event of events) event.n = 99;
    await answer;
    const read = await journal.readCase('case-1');
    expect(read).toMatchObject({ rows: [{ events: [{ n: 1 }] }], reports: [] });
  });

  test.each<[string, Partial<Draft>, string]>([
    ['that is no JSON', { events: [{ n: Number.NaN }] }, 'not-json'],
    ['without an author', { by: '' }, 'bad-entry'],
    ['without an offset in its time', { at: '2031-03-04T08:00:00' }, 'bad-entry'],
    ['at a time that does not exist', { at: '2031-13-04T08:00:00Z' }, 'bad-entry'],
    ['with a key that misleads', { events: [JSON.parse('{"__proto__":1}')] }, 'bad-entry'],
    ['of a million letters', { events: ['x'.repeat(1_000_000)] }, 'entry-too-long'],
  ])('%s is refused, and the next one takes its place', async (_, other, code) => {
    const { journal } = opened();
    const answer = await journal.append('case-1', draft(1, other));
    expect(answer).toMatchObject({ ok: false, failure: { code } });
    expect(await saved(journal, draft(2))).toMatchObject({ seq: 1 });
  });

  test('of a case whose name is no name is refused', async () => {
    const { journal } = opened();
    for (const caseId of ['', '../x', 'a/b', '__proto__', 'x'.repeat(101)]) {
      expect(await journal.append(caseId, draft(1))).toMatchObject({
        failure: { code: 'unknown-case' },
      });
    }
  });

  test('of a writer that was relieved by a later one is refused', async () => {
    const { journal } = opened();
    await saved(journal, draft(1, { epoch: 2 }));
    expect(await journal.append('case-1', draft(2))).toMatchObject({
      failure: { code: 'stale-writer' },
    });
  });

  test('is refused after closing', async () => {
    const { journal } = opened();
    await journal.close();
    expect(await journal.append('case-1', draft(1))).toMatchObject({
      failure: { code: 'journal-closed' },
    });
  });
});

describe('While a home fails', () => {
  const failing = (fails: () => boolean, mishap: Mishap = 'refuses') => {
    const database = memoryHome('database');
    const file = memoryHome('file', undefined, () => (fails() ? mishap : undefined));
    const journal = openJournal({ homes: [database, file], patience });
    const heard: string[] = [];
    journal.watch((caseId, { code }) => heard.push(`${caseId} ${code}`));
    return { database, file, journal, heard };
  };

  test('an entry is not acknowledged, the failure is told, and the next entry waits', async () => {
    let isBroken = false;
    const { journal, heard, file } = failing(() => isBroken);
    await saved(journal, draft(1));
    isBroken = true;
    const failed = await journal.append('case-1', draft(2));
    expect(failed).toMatchObject({ ok: false, failure: { code: 'not-saved' } });
    expect(await journal.append('case-1', draft(3))).toMatchObject({
      failure: { code: 'earlier-unsaved' },
    });
    expect(heard).toEqual(['case-1 not-saved']);
    expect(file.cases.get('case-1')).toHaveLength(1);
  });

  test('the same entry can be offered again, and keeps its place', async () => {
    let isBroken = false;
    const { journal, database, file } = failing(() => isBroken);
    await saved(journal, draft(1));
    isBroken = true;
    await journal.append('case-1', draft(2));
    isBroken = false;
    expect(await saved(journal, draft(2))).toMatchObject({ seq: 2 });
    expect(await saved(journal, draft(3))).toMatchObject({ seq: 3 });
    expect(file.cases).toEqual(database.cases);
  });

  test('a failure that passes within the tries is told, and its end too', async () => {
    let left = 0;
    const { journal, heard } = failing(() => left-- > 0);
    await saved(journal, draft(1));
    left = 2;
    await saved(journal, draft(2));
    expect(heard).toEqual(['case-1 not-saved', 'case-1 saved-again']);
  });

  test('other cases are not held up by an entry that waits', async () => {
    let isBroken = false;
    const { journal } = failing(() => isBroken, 'throws');
    await saved(journal, draft(1));
    isBroken = true;
    await journal.append('case-1', draft(2));
    isBroken = false;
    expect(await saved(journal, draft(1), 'case-2')).toMatchObject({ seq: 1 });
  });

  test('reading the case says what became of the entry, and entries go on', async () => {
    let isBroken = false;
    const { journal } = failing(() => isBroken);
    await saved(journal, draft(1));
    isBroken = true;
    await journal.append('case-1', draft(2));
    isBroken = false;
    const read = await journal.readCase('case-1');
    expect(read).toMatchObject({ ok: true, reports: [{ code: 'home-behind', row: 2 }] });
    expect(read.ok && read.rows.map(({ id }) => id)).toEqual(['command-1', 'command-2']);
    expect(await saved(journal, draft(3))).toMatchObject({ seq: 3 });
  });

  test('a home that never answers is a failure, told before the limit has passed', async () => {
    const database = memoryHome('database');
    const silent = { ...memoryHome('file'), append: () => new Promise<never>(() => undefined) };
    const slow = { limitMs: 60, noticeMs: 10, pausesMs: [] };
    const journal = openJournal({ homes: [database, silent], patience: slow });
    const told = new Promise((resolve) => journal.watch((_, { code }) => resolve(code)));
    const answer = journal.append('case-1', draft(1));
    expect(await Promise.race([told, answer])).toBe('not-saved');
    expect(await answer).toMatchObject({ failure: { code: 'not-saved' } });
  });

  test('what a home holds is unknown, so nothing is added, but the other can be read', async () => {
    const database = memoryHome('database');
    const file = memoryHome('file', undefined, (call) => (call <= 3 ? 'refuses' : undefined));
    const journal = openJournal({ homes: [database, file], patience });
    expect(await journal.append('case-1', draft(1))).toMatchObject({
      failure: { code: 'not-saved', detail: 'home-unreadable' },
    });
    expect(database.cases.size).toBe(0);
    expect(await journal.readCase('case-1')).toMatchObject({
      ok: true,
      rows: [],
      reports: [{ code: 'home-unreadable', home: 'file' }],
    });
  });

  test('no case is taken for an empty one when no home can be read', async () => {
    const broken = ['database', 'file'].map((name) => memoryHome(name, undefined, () => 'throws'));
    const journal = openJournal({ homes: broken, patience });
    expect(await journal.readCase('case-1')).toMatchObject({ failure: { code: 'cannot-read' } });
    expect(await journal.listCases()).toMatchObject({ failure: { code: 'cannot-read' } });
    expect(await journal.append('case-1', draft(1))).toMatchObject({
      failure: { code: 'not-saved' },
    });
  });

  test('rows that both homes lose under a running program are put back', async () => {
    const { journal, database, file } = opened();
    const heard: string[] = [];
    journal.watch((_, { home, code }) => heard.push(`${home} ${code}`));
    await saved(journal, draft(1));
    await saved(journal, draft(2));
    database.cases.clear();
    file.cases.clear();
    expect(await saved(journal, draft(3))).toMatchObject({ seq: 3 });
    expect(heard).toContain('database home-restored');
    expect(heard).toContain('file home-restored');
    expect(database.cases.get('case-1')).toHaveLength(3);
    expect(file.cases).toEqual(database.cases);
  });
});

test('Rows from an earlier start that both homes lose under a running program are put back', async () => {
  const { journal, database, file } = opened();
  await saved(journal, draft(1));
  await saved(journal, draft(2));
  const restarted = openJournal({ homes: [database, file], patience });
  await restarted.readCase('case-1');
  database.cases.clear();
  file.cases.clear();
  expect(await saved(restarted, draft(3))).toMatchObject({ seq: 3 });
  expect(database.cases.get('case-1')).toHaveLength(3);
});

test('A case that both homes lose can still be taken out by the program that writes it', async () => {
  const { journal, database, file } = opened();
  await saved(journal, draft(1));
  await saved(journal, draft(2));
  database.cases.clear();
  file.cases.clear();
  const taken = await journal.exportCase('case-1');
  expect(taken.ok && taken.text.trim().split('\n')).toHaveLength(3); // a head, and each row
  expect(database.cases.size + file.cases.size).toBe(0);
});

test('A case that no home answers for can still be taken out by the program that writes it', async () => {
  let isBroken = false;
  const homes = ['database', 'file'].map((name) =>
    memoryHome(name, undefined, () => (isBroken ? 'refuses' : undefined)),
  );
  const journal = openJournal({ homes, patience });
  await saved(journal, draft(1));
  await saved(journal, draft(2));
  isBroken = true;
  const taken = await journal.exportCase('case-1');
  expect(taken.ok && taken.text.trim().split('\n')).toHaveLength(3); // a head, and each row
  expect(await journal.readCase('case-1', 'reader')).toMatchObject({
    rows: [{ seq: 1 }, { seq: 2 }],
    reports: [{ code: 'home-unreadable' }, { code: 'home-unreadable' }],
  });
  // A writer is to settle the homes, and there is nothing to settle them with.
  expect(await journal.readCase('case-1')).toMatchObject({ failure: { code: 'cannot-read' } });
});

test('A home that a reader cannot read at once is looked at again before that is said', async () => {
  const database = memoryHome('database');
  let troubles = 1;
  const plain = memoryHome('file');
  const file: MemoryHome = {
    ...plain,
    readAll: async (caseId) => {
      troubles -= 1;
      return troubles >= 0 ? fail('home-failed', { home: 'file' }) : plain.readAll(caseId);
    },
  };
  const writer = openJournal({ homes: [database, plain], patience });
  await saved(writer, draft(1));
  const reader = openJournal({ homes: [database, file], patience });
  expect(await reader.readCase('case-1', 'reader')).toMatchObject({ reports: [] });
  troubles = 2;
  expect(await reader.readCase('case-1', 'reader')).toMatchObject({
    reports: [{ code: 'home-unreadable', home: 'file' }],
  });
});

test('A case is taken out without waiting for an entry that is on its way', async () => {
  let isStuck = false;
  let goOn = (): void => undefined;
  const stuck = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  const homes = ['database', 'file'].map((name): MemoryHome => {
    const home = memoryHome(name);
    return {
      ...home,
      append: async (row) => {
        if (isStuck) await stuck;
        return home.append(row);
      },
    };
  });
  const journal = openJournal({ homes, patience });
  await saved(journal, draft(1));
  isStuck = true;
  const entry = saved(journal, draft(2));
  const taken = await journal.exportCase('case-1');
  expect(taken.ok && taken.text.trim().split('\n')).toHaveLength(2); // a head, and the row that was saved
  goOn();
  expect(await entry).toMatchObject({ seq: 2 });
});

test('A case whose key is away is not read from what is in mind', async () => {
  let isLocked = false;
  const sealed = ['database', 'file'].map((name): MemoryHome => {
    const home = memoryHome(name);
    const readAll = async (caseId: string) =>
      isLocked ? fail('case-locked') : home.readAll(caseId);
    return { ...home, readAll };
  });
  const journal = openJournal({ homes: sealed, patience });
  await saved(journal, draft(1));
  isLocked = true;
  expect(await journal.readCase('case-1', 'reader')).toMatchObject({
    failure: { code: 'cannot-read' },
  });
});

test('A day of entries is in mind as it was written, and an old one is known by its id', async () => {
  const { journal, database, file } = opened();
  const rows = 300;
  for (let n = 1; n <= rows; n += 1) await saved(journal, draft(n));
  const before = database.cases.get('case-1');
  expect(await saved(journal, draft(7, { at: '2031-03-05T09:00:00Z' }))).toEqual(
    JSON.parse(before?.[6] ?? ''),
  );
  database.cases.clear();
  file.cases.clear();
  await saved(journal, draft(rows + 1));
  expect(database.cases.get('case-1')?.slice(0, rows)).toEqual(before);
});

describe('A second window', () => {
  test('that was offered the same entry is answered with the row that was written', async () => {
    const { journal, database, file } = opened();
    const other = openJournal({ homes: [database, file], patience });
    await saved(journal, draft(1));
    const written = await saved(other, draft(2));
    expect(await saved(journal, draft(2, { at: '2031-03-05T09:00:00Z' }))).toEqual(written);
    expect(database.cases.get('case-1')).toHaveLength(2);
  });

  test('that wrote in between is noticed, and nothing of it is overwritten', async () => {
    const { journal, database, file } = opened();
    const other = openJournal({ homes: [database, file], patience });
    await saved(journal, draft(1));
    await saved(other, draft(2));
    const answer = await journal.append('case-1', draft(3));
    expect(answer).toMatchObject({ failure: { code: 'other-writer' } });
    expect(await journal.append('case-1', draft(3))).toMatchObject({
      failure: { code: 'other-writer' },
    });
    const read = await journal.readCase('case-1');
    expect(read.ok && read.rows.map(({ id }) => id)).toEqual(['command-1', 'command-2']);
    expect(await saved(journal, draft(3))).toMatchObject({ seq: 3 });
  });

  test('that only reads changes nothing', async () => {
    const { journal, database, file } = opened();
    await saved(journal, draft(1));
    file.cases.clear();
    const read = await openJournal({ homes: [database, file] }).readCase('case-1', 'reader');
    expect(read.ok && read.rows).toHaveLength(1);
    expect(file.cases.size).toBe(0);
  });

  test('hears of each row once it is acknowledged', async () => {
    const announced: string[] = [];
    const journal = openJournal({
      homes: [memoryHome('database')],
      announce: (caseId, seq) => announced.push(`${caseId} ${seq}`),
    });
    await saved(journal, draft(1));
    await journal.append('case-1', draft(1));
    await saved(journal, draft(2));
    expect(announced).toEqual(['case-1 1', 'case-1 2']);
  });
});

describe('The list of cases', () => {
  test('has each case once, with its rows, whichever home holds it', async () => {
    const { journal, file } = opened();
    await saved(journal, draft(1), 'case-b');
    await saved(journal, draft(2), 'case-b');
    await saved(journal, draft(1), 'case-a');
    file.cases.delete('case-a');
    expect(await journal.listCases()).toEqual({
      ok: true,
      cases: [
        { caseId: 'case-a', rows: 1 },
        { caseId: 'case-b', rows: 2 },
      ],
      reports: [],
    });
  });

  test('says which home did not answer, since it may hold more', async () => {
    const { journal, database } = opened();
    await saved(journal, draft(1));
    const file = memoryHome('file', undefined, () => 'throws');
    expect(await openJournal({ homes: [database, file], patience }).listCases()).toMatchObject({
      cases: [{ caseId: 'case-1', rows: 1 }],
      reports: [{ code: 'home-unreadable', home: 'file' }],
    });
  });

  test('counts rows itself where a home does not', async () => {
    const file = memoryHome('file');
    const list = async () => ({ ok: true, cases: [{ caseId: 'case-1' }] }) as const;
    const journal = openJournal({ homes: [{ ...file, list }] });
    await saved(journal, draft(1));
    expect(await journal.listCases()).toMatchObject({ cases: [{ caseId: 'case-1', rows: 1 }] });
  });
});

test('With one home only, the health says so', async () => {
  const one = openJournal({ homes: [memoryHome('database')], persisted: async () => false });
  expect(await one.health()).toMatchObject({
    persisted: false,
    homes: ['database'],
    reports: [{ code: 'one-home' }],
  });
  expect((await opened().journal.health()).reports).toEqual([]);
});
