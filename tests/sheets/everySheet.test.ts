import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Sheet, Step } from '../../src/engine/sheet.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';
import { standardCheckpoints, whoItems } from '../../src/sheets/words.ts';
import { spentMs } from '../support/cpu.ts';

/** What holds for each file of checklists/. */
const loaded = loadSheets('checklists');
const sheets: readonly Sheet[] = loaded.ok ? loaded.sheets : [];

const stepsOf = (sheet: Sheet): readonly Step[] => [
  ...sheet.checkpoints.flatMap(({ steps }) => steps),
  ...sheet.closures.flatMap(({ look }) => look),
];

test('every file is a sheet without a mistake', () => {
  expect(loaded.ok ? [] : loaded.issues.map(({ message }) => message)).toEqual([]);
  const files = readdirSync('checklists').filter((file) => file.endsWith('.yaml'));
  expect(sheets.map(({ id }) => `${id}.yaml`).sort()).toEqual(files.sort());
});

test('all of them are read and checked in under a second', () => {
  const start = spentMs();
  loadSheets('checklists');
  expect(spentMs() - start).toBeLessThan(1000);
});

test.each(sheets)('$id: every line, step and medicine names its source', (sheet) => {
  const sourced = [...sheet.lines, ...stepsOf(sheet), ...sheet.medicines];
  expect(sourced.filter(({ source }) => source.trim() === '')).toEqual([]);
  expect(sheet.sources.length).toBeGreaterThan(0);
});

test.each(sheets)('$id: no checkpoint is longer than nine steps and a minute', (sheet) => {
  const warnings = loaded.ok ? loaded.warnings : [];
  const long = warnings.filter(({ field }) => field.startsWith('checkpoints'));
  expect(long).toEqual([]);
  expect(sheet.checkpoints.map(({ id }) => id)).toEqual(
    expect.arrayContaining(Object.keys(standardCheckpoints)),
  );
});

test.each(sheets)('$id: every step has an answer of a case without trouble', (sheet) => {
  const open = stepsOf(sheet).filter(
    ({ usual, answering }) =>
      usual === undefined && answering.kind !== 'computed' && answering.kind !== 'time',
  );
  expect(open.map(({ id }) => id)).toEqual([]);
});

test.each(sheets)('$id: what a swab weighs dry stands on the sheet', (sheet) => {
  const swabs = sheet.lines.filter((line) => line.class === 'swab');
  expect(swabs.filter(({ dryG }) => dryG === undefined)).toEqual([]);
});

test.each(sheets)('$id: all nineteen items are asked or left out by name', (sheet) => {
  const asked = new Set(stepsOf(sheet).flatMap(({ whoItem }) => whoItem ?? []));
  const leftOut = sheet.changes.filter(({ to }) => to === 'left out');
  const silent = whoItems.flatMap((_, index) => {
    const item = index + 1;
    const isLeftOut = leftOut.some(({ what }) => what.startsWith(`WHO item ${item},`));
    return asked.has(item) || isLeftOut ? [] : [item];
  });
  expect(silent).toEqual([]);
});

test('the README lists every sheet with its title', () => {
  const section = readFileSync('checklists/README.md', 'utf8').split(/^## /m)[1] ?? '';
  const rows = [...section.matchAll(/^\| `([a-z0-9-]+)` \| ([^|]+) \|/gm)];
  const listed = rows.map(([, id, title]) => `${id}: ${title?.trim()}`);
  expect(listed.sort()).toEqual(sheets.map(({ id, title }) => `${id}: ${title}`).sort());
});

test('the WHO list has seven, seven and five items', () => {
  const counts = Object.keys(standardCheckpoints).map(
    (id) => whoItems.filter(({ checkpoint }) => checkpoint === id).length,
  );
  expect(counts).toEqual([7, 7, 5]);
});

test('the policy that is shipped is what stands where a sheet says nothing', async () => {
  const { policyDefaults } = await import('../../src/sheets/words.ts');
  expect(sheets.map(({ policy }) => policy)).toEqual(sheets.map(() => policyDefaults));
});

test('no file of checklists uses a tab, or a line over 120 columns', () => {
  const files = readdirSync('checklists', { recursive: true, encoding: 'utf8' });
  const long = files
    .filter((file) => file.endsWith('.yaml'))
    .flatMap((file) =>
      readFileSync(`checklists/${file}`, 'utf8')
        .split('\n')
        .flatMap((line, index) =>
          line.includes('\t') || (line.length > 120 && !/^\s*(ask|- |note|detail)/.test(line))
            ? [`${file}:${index + 1}`]
            : [],
        ),
    );
  expect(long).toEqual([]);
});
