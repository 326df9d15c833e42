import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { drillsOf } from '../../src/drill/drillFile.ts';
import { filledIn, partNames } from '../../src/drill/readme.ts';
import { runDrill } from '../../src/drill/runDrill.ts';
import { checkSheet } from '../../src/rehearsal/checkSheet.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { withFormat } from '../../src/sheets/readme.ts';
import { said, shared } from './small.ts';

/** What checklists/README.md teaches is so. */
const readme = readFileSync('checklists/README.md', 'utf8');
const sheet = readFileSync('checklists/ports-and-swabs.yaml', 'utf8');
const parse = (text: string) => parseSheet(text, { file: 'ports-and-swabs.yaml', shared });

/** The block after a mark, or every block of a chapter. */
const blocksOf = (text: string): readonly string[] =>
  [...text.matchAll(/```(?:yaml|text)\n([\s\S]*?)```/g)].map((match) => match[1] ?? '');
const chapter = (title: string): string =>
  readme.split(`\n## ${title}\n`)[1]?.split('\n## ')[0] ?? '';
const example = (name: string): string =>
  blocksOf(readme.split(`<!-- example: ${name} -->`)[1] ?? '')[0] ?? '';

test('its generated parts are what the code says', () => {
  expect(partNames.filter((name) => !readme.includes(`<!-- generated: ${name} -->`))).toEqual([]);
  expect(readme).toContain('<!-- generated: format -->');
  expect(withFormat(filledIn(readme))).toBe(readme);
});

test('every step of the way is in the sheet that it builds', () => {
  const blocks = blocksOf(chapter('A sheet, step by step'));
  expect(blocks.length).toBeGreaterThan(12);
  expect(blocks.filter((block) => !sheet.includes(block))).toEqual([]);
});

test('its example of local changes can be made', () => {
  const from = sheet.indexOf('changes:\n');
  const to = sheet.indexOf('sources:\n');
  const parsed = parse(sheet.slice(0, from) + example('changes') + sheet.slice(to));
  expect(said(parsed)).toEqual([]);
  expect(
    parsed.ok &&
      parsed.sheet.changes.slice(0, 3).map(({ what, from: was, to: is }) => [what, was, is]),
  ).toEqual([
    ['swabs swab: opening', '5', '10'],
    ['sign-in allergy: ask', 'Is any allergy known, and which?', 'Any allergy?'],
    ['policy child-under-years', '18', '16'],
  ]);
});

test('its example of a mistake is what is said', () => {
  expect(said(parse(sheet.replace('opening: 5', 'opening: 7')))).toEqual([
    example('mistake').trim(),
  ]);
});

test('its example of a sheet that is played is what is said, with the way', () => {
  const text = sheet.replace(/tracked: yes +# a jaw.*/, 'counted: no');
  const checked = checkSheet(text, { file: 'ports-and-swabs.yaml', shared });
  const issues = checked.ok ? [] : checked.issues;
  const words = issues.map(({ message, way = [] }) =>
    [`${message} The shortest way there:`, ...way.map((step) => `  - ${step}`)].join('\n'),
  );
  expect(words).toEqual([example('played').trim()]);
});

test('its example of a drill passes', () => {
  const loaded = loadSheets('checklists');
  const file = drillsOf(example('drill'), {
    shared,
    byName: (name) => {
      const found = loaded.ok ? loaded.sheets.find(({ id }) => id === name) : undefined;
      return found ? { ok: true, sheet: found } : { ok: false, sentence: name };
    },
  });
  expect(file.ok).toBe(true);
  const drills = file.ok ? file.drills : [];
  expect(drills.map((one) => runDrill(one.drill, one.sheet).failures)).toEqual([[]]);
});

test('every link inside it leads somewhere', () => {
  const headings = [...readme.matchAll(/^## (.+)$/gm)].map((match) =>
    (match[1] ?? '').toLowerCase().replaceAll(',', '').replaceAll(' ', '-'),
  );
  const links = [...readme.matchAll(/\]\(#([^)]+)\)/g)].map((match) => match[1] ?? '');
  expect(links.length).toBeGreaterThan(8);
  expect(links.filter((link) => !headings.includes(link))).toEqual([]);
});
