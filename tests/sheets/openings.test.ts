import { expect, test } from 'vitest';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { said, shared, small } from './small.ts';

/** What a sheet opens of lines that say no opening of their own. */
const withOpens = (opens: string, text = small) =>
  parseSheet(text.replace('checkpoints:\n', `opens: ${opens}\ncheckpoints:\n`), {
    file: 'small.yaml',
    shared,
  });

test('a line without an opening has the one that the sheet says', () => {
  const parsed = withOpens('{ loop: 2, tube: 0 }');
  expect(said(parsed)).toEqual([]);
  const openings = parsed.ok ? parsed.sheet.lines.map(({ id, opening }) => [id, opening]) : [];
  expect(openings).toEqual([
    ['swab', 5],
    ['loop', 2],
    ['ligature', 0],
    ['tube', 0],
    ['reel', 0],
    ['stone', 0],
    ['port', 3],
  ]);
});

test('a shared tray is opened by one sheet and only kept ready by another', () => {
  const text = small
    .replace('include: [core-steps, policy]', 'include: [core-steps, policy, trays]')
    .replace('checkpoints:\n', '  minor-tray: shared\ncheckpoints:\n');
  const opened = (parsed: ReturnType<typeof parseSheet>) =>
    parsed.ok && parsed.sheet.lines.find(({ id }) => id === 'minor-tray')?.opening;
  expect(opened(withOpens('{ minor-tray: 38 }', text))).toBe(38);
  expect(opened(withOpens('{ loop: 1 }', text))).toBe(0);
});

test('a local change of the opening goes on from what the sheet opens', () => {
  const change = `changes:
  - line: loop
    set: { opening: 3 }
    reason: The surgeons use three
    approved-by: Testcase, Ash
    approved-on: 2026-01-05
`;
  const parsed = withOpens('{ loop: 2 }', small.replace('changes:\n', change));
  expect(said(parsed)).toEqual([]);
  const [first] = parsed.ok ? parsed.sheet.changes : [];
  expect([first?.what, first?.from, first?.to]).toEqual(['things loop: opening', '2', '3']);
});

test.each([
  [
    '{ lop: 1 }',
    'In small.yaml, line 44, column 10, opens.lop names the line "lop", but the lines are swab, loop, ligature, tube, reel, stone and port; perhaps "loop" is meant.',
  ],
  [
    '{ port: 1 }',
    'In small.yaml, line 44, column 10, opens.port is said a second time, after the opening in line 43 of small.yaml, but should be said once.',
  ],
  [
    '{ loop: two }',
    'In small.yaml, line 44, column 16, opens.loop is "two", but should be a whole number from 0 to 999.',
  ],
  [
    '{ loop: 1000 }',
    'In small.yaml, line 44, column 16, opens.loop is 1000, but should be a whole number from 0 to 999.',
  ],
])('what is wrong in opens: %s is told once, where it stands', (opens, sentence) => {
  expect(said(withOpens(opens))).toEqual([sentence]);
});

test('what a sheet opens of a line in packs is whole packs', () => {
  const text = small.replace(
    'swab: { name: Swab, opening: 10, pack: 5 }',
    'swab: { name: Swab, pack: 5 }',
  );
  const noChange = text.replace(/changes:\n(?: .*\n)+/, '');
  expect(said(withOpens('{ swab: 7 }', noChange))).toEqual([
    'In small.yaml, line 44, column 16, sections.swabs.lines.swab.opening is 7, but should be whole packs of 5.',
  ]);
});
