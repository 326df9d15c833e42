import { beforeAll, describe, expect, test } from 'vitest';
import { fileLengthMax, fileRowsMax, parseExport } from '#journal/exportFile.ts';
import type { FailureCode } from '#journal/failures.ts';
import { openJournal } from '#journal/openJournal.ts';
import { draft } from '../support/drafts.ts';
import { memoryHome } from '../support/memoryHome.ts';

const opened = () => openJournal({ homes: [memoryHome('database'), memoryHome('file')] });

async function exported(count: number, caseId = 'case-1', by = 'Testcase, Ash'): Promise<string> {
  const journal = opened();
  for (let n = 1; n <= count; n += 1) await journal.append(caseId, draft(n, { by }));
  const answer = await journal.exportCase(caseId);
  if (!answer.ok) throw new Error(answer.failure.code);
  return answer.text;
}

let text = '';
let lines: readonly string[] = [];
beforeAll(async () => {
  text = await exported(4);
  lines = text.split('\n').slice(0, -1);
});

const joined = (parts: readonly (string | undefined)[]): string => `${parts.join('\n')}\n`;
/** The header says how many rows follow, so that only the rows are wrong. */
const withRows = (rows: readonly (string | undefined)[]): string =>
  joined([lines[0]?.replace('"rows":4', `"rows":${rows.length}`), ...rows]);

async function refused(file: string): Promise<{ code: FailureCode; sentence: string }> {
  const answer = await parseExport(file);
  if (answer.ok) throw new Error('It was taken');
  return answer.failure;
}

describe('An exported file', () => {
  test('begins with a header of one line, then has one row a line', () => {
    const head = JSON.parse(lines[4] ?? '').hash;
    expect(JSON.parse(lines[0] ?? '')).toEqual({
      format: 'lastlook-journal',
      v: 1,
      caseId: 'case-1',
      rows: 4,
      head,
    });
    expect(lines).toHaveLength(5);
    expect(text.endsWith('\n')).toBe(true);
  });

  test('goes into an empty tablet and comes out byte for byte', async () => {
    const journal = opened();
    expect(await journal.importCase(text)).toEqual({
      ok: true,
      caseId: 'case-1',
      outcome: 'imported',
      added: 4,
    });
    expect(await journal.exportCase('case-1')).toEqual({ ok: true, text });
    expect(await journal.append('case-1', draft(5))).toMatchObject({ envelope: { seq: 5 } });
  });

  test('does nothing where all of it is here, or more', async () => {
    const journal = opened();
    await journal.importCase(text);
    const nothing = { ok: true, caseId: 'case-1', outcome: 'already-here', added: 0 };
    expect(await journal.importCase(text)).toEqual(nothing);
    await journal.append('case-1', draft(5));
    expect(await journal.importCase(text)).toEqual(nothing);
  });

  test('makes a shorter case with the same rows longer', async () => {
    const journal = opened();
    await journal.importCase(await exported(2));
    expect(await journal.importCase(text)).toMatchObject({ outcome: 'extended', added: 2 });
    expect(await journal.exportCase('case-1')).toEqual({ ok: true, text });
  });

  test('that makes a case longer stops entries until the case is read again', async () => {
    const journal = opened();
    await journal.append('case-1', draft(1));
    await journal.importCase(text);
    expect(await journal.append('case-1', draft(9))).toMatchObject({
      failure: { code: 'other-writer' },
    });
    await journal.readCase('case-1');
    expect(await journal.append('case-1', draft(9))).toMatchObject({ envelope: { seq: 5 } });
  });

  test('is refused if this tablet has another row of the case, and nothing is changed', async () => {
    const journal = opened();
    await journal.importCase(await exported(6, 'case-1', 'Testcase, Bay'));
    const before = await journal.exportCase('case-1');
    expect(await journal.importCase(text)).toMatchObject({
      failure: { code: 'other-history', row: 1 },
    });
    expect(await journal.exportCase('case-1')).toEqual(before);
  });

  test('of a case that is not here cannot be made', async () => {
    expect(await opened().exportCase('case-1')).toMatchObject({
      failure: { code: 'unknown-case' },
    });
  });
});

describe('A file that is not as it was written is refused', () => {
  test('for every bit of every byte, and nothing is changed by it', async () => {
    const bytes = new TextEncoder().encode(await exported(2));
    const database = memoryHome('database');
    const journal = openJournal({ homes: [database, memoryHome('file')] });
    let taken = 0;
    for (let bit = 0; bit < bytes.length * 8; bit += 1) {
      const flipped = bytes.slice();
      flipped[bit >> 3] = (flipped[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      const answer = await journal.importCase(new TextDecoder().decode(flipped));
      if (answer.ok) taken += 1;
    }
    expect(taken).toBe(0);
    expect(database.cases.size).toBe(0);
  }, 60_000);

  test('wherever it is cut', async () => {
    let taken = 0;
    for (let length = 0; length < text.length; length += 1) {
      if ((await parseExport(text.slice(0, length))).ok) taken += 1;
    }
    expect(taken).toBe(0);
  });

  test('and the row is named', async () => {
    const changed = lines.map((line, index) => (index === 3 ? line.replace('swab', 'drap') : line));
    expect(await refused(joined(changed))).toMatchObject({
      code: 'row-changed',
      row: 3,
      sentence: 'Row 3 was changed after it was written.',
    });
  });

  test('if a row was taken out', async () => {
    const [header, one, two, three, four] = lines;
    expect(await refused(withRows([one, two, four]))).toMatchObject({
      code: 'row-missing',
      row: 3,
    });
    expect(await refused(withRows([two, three, four]))).toMatchObject({
      code: 'row-missing',
      row: 1,
    });
    expect(await refused(joined([header, one, two, three]))).toMatchObject({
      code: 'file-truncated',
    });
    expect(await refused(withRows([one, two, three]))).toMatchObject({ code: 'file-damaged' });
  });

  test('if rows changed places', async () => {
    const [, one, two, three, four] = lines;
    expect(await refused(withRows([one, three, two, four]))).toMatchObject({
      code: 'row-missing',
      row: 2,
    });
  });

  test('if a row stands there twice', async () => {
    const [, one, two, three, four] = lines;
    expect(await refused(withRows([one, two, two, three, four]))).toMatchObject({
      code: 'row-twice',
      row: 3,
    });
    expect(await refused(withRows([one, two, three, four, four]))).toMatchObject({
      code: 'row-twice',
      row: 5,
    });
  });

  test('if a row of another case, or of another history of the case, was put in', async () => {
    const [, one, two, three, four] = lines;
    const otherCase = (await exported(4, 'case-2')).split('\n')[3];
    const otherHistory = (await exported(4, 'case-1', 'Testcase, Bay')).split('\n')[3];
    expect(await refused(withRows([one, two, otherCase, four]))).toMatchObject({
      code: 'row-foreign',
      row: 3,
    });
    expect(await refused(withRows([one, two, otherHistory, four]))).toMatchObject({
      code: 'row-unlinked',
      row: 3,
    });
    expect(await refused(withRows([one, two, three, four, 'x']))).toMatchObject({ row: 5 });
  });
});

describe('A file from elsewhere is refused', () => {
  test.each<[string, () => string, FailureCode]>([
    ['an empty file', () => '', 'file-foreign'],
    ['some other text', () => 'Dear all,\nplease count.\n', 'file-foreign'],
    ['some other JSON', () => '{"format":"other"}\n', 'file-foreign'],
    ['a picture', () => '\u0089PNG\r\n\u001a\n', 'file-foreign'],
    ['a newer file', () => text.replace('"v":1}', '"v":3}'), 'file-newer'],
    [
      'a header with something more',
      () => text.replace('"rows":4', '"rows":4,"s":1'),
      'file-damaged',
    ],
    ['a header with blanks', () => text.replace('"rows":4', '"rows": 4'), 'file-damaged'],
    ['a header without rows', () => text.replace('"rows":4', '"rows":0'), 'file-damaged'],
    ['a header for more rows', () => text.replace('"rows":4', '"rows":5'), 'file-truncated'],
    ['more lines than rows', () => `${text}{}\n`, 'file-overlong'],
    ['other line ends', () => text.replaceAll('\n', '\r\n'), 'file-damaged'],
    ['a newer row', () => text.replace('"seq":2,"v":1', '"seq":2,"v":2'), 'row-newer'],
    ['a row with a key twice', () => text.replace('"seq":2', '"seq":2,"seq":2'), 'row-unreadable'],
    [
      'a row with a key that misleads',
      () => text.replace('"line":"swab"', '"__proto__":{},"line":"swab"'),
      'row-unreadable',
    ],
    ['a row for a constructor', () => text.replace('"line":', '"constructor":'), 'row-unreadable'],
  ])('if it is %s', async (_, file, code) => {
    expect(await refused(file())).toMatchObject({ code });
  });

  test('if it is too large, has too many rows, too long a row or too many levels', async () => {
    const [header, ...rows] = lines;
    expect(await refused('x'.repeat(fileLengthMax + 1))).toMatchObject({ code: 'file-too-large' });
    const tooMany = header?.replace('"rows":4', `"rows":${fileRowsMax + 1}`);
    expect(await refused(joined([tooMany, ...rows]))).toMatchObject({ code: 'file-too-large' });
    expect(await refused(`${header}\n${'\n'.repeat(fileRowsMax * 2)}`)).toMatchObject({ row: 1 });
    const long = rows.map((row, index) => (index === 1 ? row.padEnd(1_000_001) : row));
    expect(await refused(joined([header, ...long]))).toMatchObject({
      code: 'row-too-long',
      row: 2,
    });
    const deep = '['.repeat(300_000) + ']'.repeat(300_000);
    expect(await refused(joined([header, deep, ...rows.slice(1)]))).toMatchObject({
      code: 'row-unreadable',
      row: 1,
    });
    expect(await refused('['.repeat(1_000_000))).toMatchObject({ code: 'file-foreign' });
  });
});
