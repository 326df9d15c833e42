import { describe, expect, test, vi } from 'vitest';
import { checkRows, seal } from '#journal/chain.ts';
import { makeLately } from '#journal/lately.ts';
import { openJournal } from '#journal/openJournal.ts';
import { draft } from '../support/drafts.ts';
import { memoryHome } from '../support/memoryHome.ts';

const of = (rows: number) => ({ rows: Array.from({ length: rows }, () => 0) });

describe('What was read lately', () => {
  test('is had again, until it gets too much: then the oldest goes', () => {
    const lately = makeLately(({ rows }: ReturnType<typeof of>) => rows.length, 10);
    const [one, two, three] = [of(4), of(5), of(3)];
    lately.keep('one', one);
    lately.keep('two', two);
    expect([lately.of('one'), lately.of('two')]).toEqual([one, two]);
    lately.keep('three', three);
    expect([lately.of('one'), lately.of('two'), lately.of('three')]).toEqual([
      undefined,
      two,
      three,
    ]);
  });

  test('counts a case that is looked at again once, and as the newest', () => {
    const lately = makeLately(({ rows }: ReturnType<typeof of>) => rows.length, 10);
    for (const name of ['one', 'two', 'one', 'one']) lately.keep(name, of(5));
    lately.keep('three', of(5));
    expect([lately.of('one'), lately.of('two')].map((found) => found !== undefined)).toEqual([
      true,
      false,
    ]);
  });

  test('is gone at once when it is to be forgotten', () => {
    const lately = makeLately(({ rows }: ReturnType<typeof of>) => rows.length, 10);
    lately.keep('one', of(1));
    lately.forget();
    expect(lately.of('one')).toBeUndefined();
  });
});

/** The texts of a case. From row `forkAt` on its entries are others, and hashed anew. */
async function caseOf(count: number, forkAt = Infinity): Promise<readonly string[]> {
  const texts: string[] = [];
  let last: Parameters<typeof seal>[1];
  for (let n = 1; n <= count; n += 1) {
    const sealed = await seal('case-1', last, draft(n >= forkAt ? n + 100 : n));
    if (!sealed.ok) throw new Error(sealed.failure.code);
    texts.push(sealed.text);
    last = sealed.envelope;
  }
  return texts;
}

describe('Rows that were checked before', () => {
  const looksAt = async (texts: readonly string[], before: readonly string[]) => {
    const known = { texts: before, rows: (await checkRows('case-1', before)).rows };
    const look = vi.spyOn(JSON, 'parse');
    try {
      const checked = await checkRows('case-1', texts, known);
      return { ...checked, looks: look.mock.calls.length };
    } finally {
      look.mockRestore();
    }
  };

  test('are not checked again while they are the same; what is new is', async () => {
    const four = await caseOf(4);
    expect(await looksAt(four, four)).toMatchObject({ looks: 0, broken: undefined });
    const longer = await looksAt(four, four.slice(0, 3));
    expect(longer).toMatchObject({ looks: 1, broken: undefined });
    expect(longer.rows).toEqual((await checkRows('case-1', four)).rows);
    expect((await looksAt(four.slice(0, 2), four)).rows).toHaveLength(2);
  });

  test('are checked again from the first one on that is another', async () => {
    const four = await caseOf(4);
    const changed = four.map((text, index) => (index === 1 ? text.replace('swab', 'drap') : text));
    expect(await looksAt(changed, four)).toMatchObject({
      rows: { length: 1 },
      broken: { failure: { code: 'row-changed', row: 2 } },
    });
    // A second row that is whole in itself, before a third that was known: it does not follow any more.
    const spliced = [four[0] ?? '', (await caseOf(2, 2))[1] ?? '', ...four.slice(2)];
    expect(await looksAt(spliced, four)).toMatchObject({
      rows: { length: 2 },
      broken: { failure: { code: 'row-unlinked', row: 3 } },
    });
    const broken = await looksAt(four, changed);
    expect(broken).toMatchObject({ rows: { length: 4 }, broken: undefined });
  });

  test('in a journal are read from the homes all the same, and damage since is found', async () => {
    const [one, other] = [memoryHome('database'), memoryHome('file')];
    const writer = openJournal({ homes: [one, other] });
    for (const n of [1, 2, 3]) await writer.append('case-1', draft(n));
    const journal = openJournal({ homes: [one, other], patience: { secondLookMs: 1 } });
    expect(await journal.readCase('case-1', 'reader')).toMatchObject({ reports: [] });
    for (const { cases } of [one, other]) {
      const rows = cases.get('case-1') ?? [];
      cases.set('case-1', [rows[0] ?? '', (rows[1] ?? '').replace('swab', 'drap'), rows[2] ?? '']);
    }
    expect(await journal.readCase('case-1', 'reader')).toMatchObject({
      rows: { length: 1 },
      reports: [{ code: 'tail-damaged' }, { code: 'tail-damaged' }, { code: 'rows-lost', row: 2 }],
    });
  });

  test('are forgotten when a case is taken away, or when the journal is told to', async () => {
    const home = memoryHome('database');
    const journal = openJournal({
      homes: [home],
      remove: async (_, caseId) => {
        home.cases.delete(caseId);
        return { ok: true };
      },
    });
    const read = async (): Promise<number> => {
      const look = vi.spyOn(JSON, 'parse');
      await journal.readCase('case-1', 'reader');
      const looks = look.mock.calls.length;
      look.mockRestore();
      return looks;
    };
    await journal.append('case-1', draft(1));
    expect([await read(), await read()]).toEqual([1, 0]);
    journal.forget();
    expect([await read(), await read()]).toEqual([1, 0]);
    const rows = home.cases.get('case-1') ?? [];
    await journal.removeCase('case-1');
    home.cases.set('case-1', rows);
    expect(await read()).toBe(1);
  });
});
