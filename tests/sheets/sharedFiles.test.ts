import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { loadSheets } from '../../src/sheets/loadSheets.ts';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { readShared } from '../../src/sheets/shared.ts';
import { said, shared, small } from './small.ts';

/** Parts that several sheets take by name, and a folder of sheets as a whole. */
const folders: string[] = [];

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

function folderOf(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'sheets-'));
  folders.push(folder);
  mkdirSync(join(folder, 'shared'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}

const house = `shared: house
sections:
  bowls:
    name: Bowls
    class: small
    source: common practice, no source
    lines:
      bowl: { name: Bowl, opening: 2 }
specimens:
  node: { letter: B, name: Node, site: abdomen, test: histology, media: formalin }
steps:
  warm:
    who: anaesthetist
    ask: Is the patient warm?
    short: Warm
    source: common practice, no source
`;

const withHouse = small
  .replace('include: [core-steps, policy]', 'include: [core-steps, policy, house]')
  .replace('checkpoints:\n', '  bowls: shared\ncheckpoints:\n')
  .replace('      imaging: shared\n', '      imaging: shared\n      warm: shared\n')
  .replace('specimens:\n', 'specimens:\n  node: shared\n');

test('a tray, a specimen and a step are taken by name', () => {
  const files = new Map([
    ...shared.files,
    ...readShared([{ name: 'house', file: 'shared/house.yaml', text: house }]).files,
  ]);
  const parsed = parseSheet(withHouse, { file: 'small.yaml', shared: { files, issues: [] } });
  expect(said(parsed)).toEqual([]);
  if (!parsed.ok) return;
  expect(parsed.sheet.lines.find(({ id }) => id === 'bowl')?.section).toBe('bowls');
  expect(parsed.sheet.specimens.map(({ id }) => id)).toEqual(['node', 'gland']);
  const timeOut = parsed.sheet.checkpoints.find(({ id }) => id === 'time-out');
  expect(timeOut?.steps.map(({ id }) => id).slice(6)).toEqual(['imaging', 'warm', 'stones']);
});

test('a mistake in a shared file is told once, however many sheets take it', () => {
  const shortened = small.replace(/include: .*\n/, 'include: [house]\n');
  const folder = folderOf({
    'shared/house.yaml': house.replace('opening: 2', 'opening: two'),
    'one.yaml': shortened
      .replace('sheet: small', 'sheet: one')
      .replace('checkpoints:\n', '  bowls: shared\ncheckpoints:\n'),
    'two.yaml': shortened
      .replace('sheet: small', 'sheet: two')
      .replace('checkpoints:\n', '  bowls: shared\ncheckpoints:\n'),
  });
  const loaded = loadSheets(folder);
  const messages = loaded.ok ? [] : loaded.issues.map(({ message }) => message);
  expect(messages.filter((message) => message.includes('bowl'))).toEqual([
    'In shared/house.yaml, line 8, column 36, sections.bowls.lines.bowl.opening is "two", but should be a whole number from 0 to 999.',
  ]);
});

test('a shared part that does not fit the sheet names both files', () => {
  const chest = house.replace('site: abdomen', 'site: chest');
  const files = new Map([
    ...shared.files,
    ...readShared([{ name: 'house', file: 'shared/house.yaml', text: chest }]).files,
  ]);
  const parsed = parseSheet(withHouse, { file: 'small.yaml', shared: { files, issues: [] } });
  expect(said(parsed)).toEqual([
    'In shared/house.yaml, line 10, column 40, taken into small.yaml, specimens.node.site names the site "chest", but the sites are abdomen.',
  ]);
});

test('a shared file has the name of its file, and only words of its format', () => {
  const parts = readShared([
    { name: 'house', file: 'shared/house.yaml', text: 'shared: home\ninclude: [other]\n' },
  ]);
  expect(parts.issues.map(({ message }) => message)).toEqual([
    'In shared/house.yaml, line 2, column 1, include is not a word of the format here, which has shared, sections, checkpoints, steps, specimens, medicines and policy.',
    'In shared/house.yaml, line 1, column 9, shared is home, but should be the name of the file, house.',
  ]);
});

test('every mistake of every sheet in a folder is told at once', () => {
  const folder = folderOf({
    'one.yaml': 'sheet: one\n',
    'two.yaml': 'sheet: [two\n',
    'read.me': 'not a sheet',
  });
  const loaded = loadSheets(folder);
  expect(loaded.ok).toBe(false);
  const files = loaded.ok ? [] : loaded.issues.map(({ file }) => file);
  expect([...new Set(files)]).toEqual(['one.yaml', 'two.yaml']);
  expect(files.filter((file) => file === 'one.yaml').length).toBeGreaterThan(5);
});

test('a folder without shared files is read all the same', () => {
  const folder = folderOf({});
  rmSync(join(folder, 'shared'), { recursive: true });
  expect(loadSheets(folder)).toEqual({ ok: true, sheets: [], warnings: [] });
});
