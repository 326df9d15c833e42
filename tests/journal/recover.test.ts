import { describe, expect, test } from 'vitest';
import { seal } from '#journal/chain.ts';
import { recover } from '#journal/recover.ts';
import { draft } from '../support/drafts.ts';

/** The texts of a case of `count` rows. From row `forkAt` on its entries and epoch are others. */
async function texts(count: number, forkAt = Infinity, epoch = 1): Promise<readonly string[]> {
  const made: string[] = [];
  let last: Parameters<typeof seal>[1];
  for (let n = 1; n <= count; n += 1) {
    const entry = n >= forkAt ? draft(n + 100, { epoch }) : draft(n);
    const sealed = await seal('case-1', last, entry);
    if (!sealed.ok) throw new Error(sealed.failure.code);
    made.push(sealed.text);
    last = sealed.envelope;
  }
  return made;
}

const three = await texts(3);
const changed = (row: number) =>
  three.map((text, index) => (index === row - 1 ? text.replace('swab', 'drap') : text));

type Found = { texts: readonly string[]; damaged?: boolean };
const settle = (database: Found, file: Found) =>
  recover('case-1', [
    { name: 'database', damaged: false, ...database },
    { name: 'file', damaged: false, ...file },
  ]);

type Line = [string, Found, Found, { rows: number; reseed: string[]; said: string[] }];
const fork = await texts(3, 2);
const newerFork = await texts(3, 3, 2);
const laterFork = await texts(2, 2, 2);

describe('At the start', () => {
  test.each<Line>([
    [
      'nothing anywhere is a new case',
      { texts: [] },
      { texts: [] },
      { rows: 0, reseed: [], said: [] },
    ],
    [
      'both the same needs no word',
      { texts: three },
      { texts: three },
      { rows: 3, reseed: [], said: [] },
    ],
    [
      'an empty database is restored from the file',
      { texts: [] },
      { texts: three },
      { rows: 3, reseed: ['database'], said: ['database home-restored'] },
    ],
    [
      'an empty file is restored from the database',
      { texts: three },
      { texts: [] },
      { rows: 3, reseed: ['file'], said: ['file home-restored'] },
    ],
    [
      'a row that one home lacks is made good',
      { texts: three.slice(0, 2) },
      { texts: three },
      { rows: 3, reseed: ['database'], said: ['database home-behind 3'] },
    ],
    [
      'a torn record in the file is made good from the database',
      { texts: three },
      { texts: three.slice(0, 2), damaged: true },
      { rows: 3, reseed: ['file'], said: ['file tail-damaged 3'] },
    ],
    [
      'a torn record that only the file had is lost, and that is said',
      { texts: three.slice(0, 2) },
      { texts: three.slice(0, 2), damaged: true },
      { rows: 2, reseed: ['file'], said: ['file tail-damaged 3', 'rows-lost 3'] },
    ],
    [
      'a file that is damaged from its first byte is not taken for an empty one',
      { texts: three },
      { texts: [], damaged: true },
      { rows: 3, reseed: ['file'], said: ['file tail-damaged 1'] },
    ],
    [
      'a changed row in one home is made good from the other',
      { texts: changed(2) },
      { texts: three },
      { rows: 3, reseed: ['database'], said: ['database tail-damaged 2'] },
    ],
    [
      'the longer whole part wins, and what no home can read is said to be lost',
      { texts: changed(2) },
      { texts: changed(3) },
      {
        rows: 2,
        reseed: ['database', 'file'],
        said: ['database tail-damaged 2', 'file tail-damaged 3', 'rows-lost 3'],
      },
    ],
    [
      'a row missing in the middle is noticed',
      { texts: [three[0] ?? '', three[2] ?? ''] },
      { texts: three },
      { rows: 3, reseed: ['database'], said: ['database tail-damaged 2'] },
    ],
    [
      'of two histories the longer one wins',
      { texts: fork.slice(0, 2) },
      { texts: three },
      { rows: 3, reseed: ['database'], said: ['database homes-disagree 2'] },
    ],
    [
      'of two histories of one length the one of the later writer wins',
      { texts: three },
      { texts: newerFork },
      { rows: 3, reseed: ['database'], said: ['database homes-disagree 3'] },
    ],
    [
      'a longer history wins over a shorter one of a later writer',
      { texts: three },
      { texts: laterFork },
      { rows: 3, reseed: ['file'], said: ['file homes-disagree 2'] },
    ],
    [
      'of two histories of one length and one writer that of the database wins',
      { texts: three },
      { texts: fork },
      { rows: 3, reseed: ['file'], said: ['file homes-disagree 2'] },
    ],
  ])('%s', async (_, database, file, { rows, reseed, said }) => {
    const answer = await settle(database, file);
    expect(answer.rows).toHaveLength(rows);
    expect(answer.texts).toHaveLength(rows);
    expect(answer.reseed).toEqual(reseed);
    expect(
      answer.reports.map((one) => [one.home, one.code, one.row].filter(Boolean).join(' ')),
    ).toEqual(said);
  });

  test('the rows of another case count for nothing', async () => {
    const answer = await recover('case-2', [{ name: 'database', texts: three, damaged: false }]);
    expect(answer.rows).toEqual([]);
    expect(answer.reports.map(({ code }) => code)).toEqual(['tail-damaged', 'rows-lost']);
  });

  test('every report names the row and the home in words', async () => {
    const { reports } = await settle({ texts: three }, { texts: changed(2) });
    expect(reports[0]?.sentence).toBe(
      'The file was damaged at row 2. What follows there was set aside.',
    );
  });
});
