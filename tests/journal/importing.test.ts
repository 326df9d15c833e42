import { describe, expect, test } from 'vitest';
import type { Home } from '#journal/home.ts';
import { type Journal, openJournal } from '#journal/openJournal.ts';
import { draft } from '../support/drafts.ts';
import { memoryHome } from '../support/memoryHome.ts';

const patience = { limitMs: 500, noticeMs: 400, pausesMs: [1, 1], secondLookMs: 1 };

async function exported(rows: number, first = 1): Promise<string> {
  const journal = openJournal({ homes: [memoryHome('database')] });
  for (let n = first; n < first + rows; n += 1) await journal.append('case-1', draft(n));
  const answer = await journal.exportCase('case-1');
  if (!answer.ok) throw new Error(answer.failure.code);
  return answer.text;
}

const idsOf = async (journal: Journal): Promise<readonly string[]> => {
  const read = await journal.readCase('case-1');
  return read.ok ? read.rows.map(({ id }) => id) : [read.failure.code];
};

/** Whatever is asked when a home is read for the n-th time is asked in the middle of an import. */
function interrupted(home: Home, readingNumber: number, interrupt: () => void): Home {
  let readings = 0;
  return {
    ...home,
    readAll: async (caseId) => {
      const held = await home.readAll(caseId);
      readings += 1;
      if (readings === readingNumber) interrupt();
      return held;
    },
  };
}

describe('Bringing in a file', () => {
  test.each([1, 2, 3])('loses no entry made while homes are read the %i. time', async (reading) => {
    const text = await exported(4);
    const [database, file] = [memoryHome('database'), memoryHome('file')];
    const before = openJournal({ homes: [database, file], patience });
    await before.importCase(await exported(2));
    let entry: ReturnType<Journal['append']> | undefined;
    const journal: Journal = openJournal({
      homes: [
        database,
        interrupted(file, reading, () => {
          entry = journal.append('case-1', draft(9));
        }),
      ],
      patience,
    });
    await journal.readCase('case-1');
    const imported = await journal.importCase(text);
    const appended = await entry;
    const ids = await idsOf(journal);
    if (appended?.ok) expect(ids).toContain('command-9');
    if (imported.ok) expect(ids.slice(0, 4)).toEqual([1, 2, 3, 4].map((n) => draft(n).id));
    expect(imported.ok && appended?.ok).toBe(false);
  });

  test.each([
    [0, { ok: false, failure: { code: 'import-unsaved' } }],
    [5, { ok: true, added: 200 }],
  ])('of 200 rows is waited for with %i ms more for each row', async (rowMs, answer) => {
    const slow = memoryHome('file');
    const reseed: Home['reseed'] = async (...asked) => {
      await new Promise((resolve) => setTimeout(resolve, 150));
      return slow.reseed(...asked);
    };
    const homes = [memoryHome('database'), { ...slow, reseed }];
    const journal = openJournal({ homes, patience: { ...patience, limitMs: 50, rowMs } });
    expect(await journal.importCase(await exported(200))).toMatchObject(answer);
  });

  test('that only one home took is made whole when the file is brought in again', async () => {
    const text = await exported(3);
    const [database, file] = [memoryHome('database'), memoryHome('file')];
    let isBroken = true;
    const reseed: Home['reseed'] = async (...asked) => {
      if (isBroken) throw new DOMException('No space left', 'QuotaExceededError');
      return file.reseed(...asked);
    };
    const journal = openJournal({ homes: [database, { ...file, reseed }], patience });
    expect(await journal.importCase(text)).toMatchObject({
      failure: { code: 'import-unsaved', detail: 'file' },
    });
    expect(await journal.importCase(text)).toMatchObject({ failure: { code: 'import-unsaved' } });
    isBroken = false;
    expect(await journal.importCase(text)).toMatchObject({ outcome: 'already-here', added: 0 });
    expect(file.cases.get('case-1')).toEqual(database.cases.get('case-1'));
    expect(file.cases.get('case-1')).toHaveLength(3);
  });
});

test('A file is not brought in while no home can be read', async () => {
  const broken = ['database', 'file'].map((name) => memoryHome(name, undefined, () => 'throws'));
  expect(
    await openJournal({ homes: broken, patience }).importCase(await exported(2)),
  ).toMatchObject({ failure: { code: 'cannot-read' } });
});

describe('A window that only reads', () => {
  /** What the homes hold at the first look and at the second: rows of one case, `!` if damaged after. */
  async function looking(looks: readonly (readonly [number, string])[][]) {
    const whole = memoryHome('database');
    const writer = openJournal({ homes: [whole], patience });
    for (let n = 1; n <= 4; n += 1) await writer.append('case-1', draft(n));
    const all = whole.cases.get('case-1') ?? [];
    let readings = 0;
    const homeOf = (name: string, place: number): Home => {
      let look = 0;
      return {
        ...memoryHome(name),
        readAll: async () => {
          readings += 1;
          const [rows, state] = looks[look]?.[place] ?? [0, 'silent'];
          look += 1;
          if (state === 'silent') throw new DOMException('Connection lost', 'UnknownError');
          return { ok: true, texts: all.slice(0, rows), damaged: state === 'damaged' };
        },
      };
    };
    const homes = [homeOf('database', 0), homeOf('file', 1)];
    const read = await openJournal({ homes, patience }).readCase('case-1', 'reader');
    return { read, readings };
  }
  const whole = (rows: number) => [rows, 'whole'] as const;
  const damaged = (rows: number) => [rows, 'damaged'] as const;

  test('looks once at what is whole', async () => {
    const { read, readings } = await looking([[whole(3), whole(3)]]);
    expect(read).toMatchObject({ ok: true, reports: [] });
    expect(readings).toBe(2);
  });

  test.each([
    ['an entry that is in both homes by then', [whole(3), whole(2)], [whole(3), whole(3)]],
    ['the next entry', [whole(3), whole(2)], [whole(4), whole(3)]],
    ['an entry that comes to the other home first', [whole(3), whole(2)], [whole(2), whole(3)]],
    ['an entry of which half is in the file', [whole(3), whole(2)], [whole(3), damaged(2)]],
  ])('is not alarmed by %s at the second look', async (_, first, second) => {
    const { read } = await looking([first, second]);
    expect(read).toMatchObject({ ok: true, reports: [] });
    expect(read.ok && read.rows).toHaveLength(Math.max(...second.map(([rows]) => rows)));
  });

  test('says what is still so at the second look, and only that', async () => {
    const { read } = await looking([
      [whole(3), damaged(1)],
      [whole(2), damaged(1)],
    ]);
    expect(read).toMatchObject({ reports: [{ code: 'tail-damaged', home: 'file', row: 2 }] });
    expect(read.ok && read.reports).toHaveLength(1);
  });

  test('says so when nothing can be read any more', async () => {
    const { read } = await looking([[whole(3), whole(2)]]);
    expect(read).toMatchObject({ failure: { code: 'cannot-read' } });
  });
});

test('What a mending took out of a home can be read, home by home', async () => {
  const [database, file] = [memoryHome('database'), memoryHome('file')];
  for (const [home, first] of [
    [database, 1],
    [file, 11],
  ] as const) {
    const journal = openJournal({ homes: [home], patience });
    for (let n = first; n < first + (first === 1 ? 3 : 2); n += 1)
      await journal.append('case-1', draft(n));
  }
  const fork = file.cases.get('case-1');
  const journal = openJournal({ homes: [database, file], patience });
  expect(await journal.readAside('case-1')).toEqual({ ok: true, copies: [], reports: [] });
  expect(await journal.readCase('case-1')).toMatchObject({ reports: [{ code: 'homes-disagree' }] });
  expect(await journal.readAside('case-1')).toEqual({
    ok: true,
    copies: [{ home: 'file', texts: fork }],
    reports: [],
  });
});
