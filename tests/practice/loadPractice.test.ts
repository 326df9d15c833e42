import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { loadPractice } from '#practice/loadPractice.ts';
import { readGuide } from '#practice/readGuide.ts';
import { checklists } from '../support/drillSheets.ts';

let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'practice-'));
  cpSync(checklists, folder, { recursive: true });
});
afterEach(() => rmSync(folder, { recursive: true }));

const drill = '1-one-swab-less.yaml';
const guide = '1-one-swab-less.guide.yaml';

/** What the loader says of a case in which one part is written otherwise. */
function saidOf(file: string, part: string, otherwise: string): readonly string[] {
  const path = join(folder, 'practice', file);
  const text = readFileSync(path, 'utf8');
  if (!text.includes(part)) throw new Error(`${file} has no ${part}`);
  writeFileSync(path, text.replace(part, otherwise));
  const loaded = loadPractice(folder);
  return loaded.ok
    ? []
    : loaded.issues.map((issue) => `${issue.file}:${issue.line} ${issue.sentence}`);
}

test('the practice cases of the repository are whole', () => {
  expect(loadPractice(folder)).toMatchObject({ ok: true, scripts: { length: 3 } });
});

test('the entries before the person begins are recorded by the practice, up to the step named', () => {
  const loaded = loadPractice(folder);
  if (!loaded.ok) throw new Error('not loaded');
  const last = loaded.scripts.map(({ prepared }) => prepared.at(-1)?.command);
  expect(last).toEqual([
    undefined,
    { type: 'move', line: 'port-5-seal', from: 'table', to: 'patient', n: 2 },
    { type: 'agree' },
  ]);
});

test.each([
  [
    guide,
    'found-by: field-searched',
    'found-by: room-searched',
    /guide.yaml:1 The drill does not find what slip-1 hides\.$/,
  ],
  [guide, '    at: swabs-out', '    at: elsewhere', /There is no scene elsewhere\.$/],
  [guide, '  - lost: swab', '  - lost: sponge', /The sheet has no line sponge\.$/],
  [
    guide,
    'level: 1',
    'level: first',
    /guide.yaml:4 level is "first", where a whole number from 1 is expected\.$/,
  ],
  [
    guide,
    'until: { incised: true }',
    'until: {}',
    /guide.yaml:\d+ until needs to say what the record must hold then\.$/,
  ],
  [
    guide,
    'until: { closed: skin }',
    'until: { shut: skin }',
    /shut is no field of until; it knows checkpoint/,
  ],
  [
    guide,
    '    lies: inside',
    '    lies: outside',
    /lies is "outside", where inside, room is expected\.$/,
  ],
  [
    guide,
    'level: 1',
    'level: 1\nbegins: nowhere',
    /begins: no step of the drill has the id nowhere\.$/,
  ],
  [
    drill,
    'sheet: ports-and-swabs',
    'sheet: nothing-known',
    /1-one-swab-less.yaml:4 There is no sheet nothing-known\.$/,
  ],
  [drill, 'verdict: reconciled', 'verdict: open', /1-one-swab-less.yaml:\d+ .*verdict/],
  [
    drill,
    '  - discrepancy: { line: swab, step: record-read }\n',
    '',
    /The drill is no solution\. Swab 10 × 10: reading the record back was left out\.$/,
  ],
  [
    drill,
    '  - finish: {}\n  - expect: { verdict: reconciled }\n',
    '',
    /The drill does not come to the end of the scene end\.$/,
  ],
])('%s: %s is not %s', (file, part, otherwise, said) => {
  const issues = saidOf(file, part, otherwise);
  expect(issues).toHaveLength(1);
  expect(issues[0]).toMatch(said);
});

test('two cases about the same patient could not be told apart', () => {
  const issues = saidOf(drill, 'number: PRACTICE-1', 'number: PRACTICE-2');
  expect(issues).toEqual([
    'practice/1-one-swab-less.yaml:1 PRACTICE-2 is the number of another case too.',
    'practice/2-a-tube-short.yaml:1 PRACTICE-2 is the number of another case too.',
  ]);
  expect(saidOf(drill, 'number: PRACTICE-2', 'number: TR-100')[0]).toMatch(/begins with PRACTICE-/);
});

test('a case without its guide is told by the name that is missing', () => {
  rmSync(join(folder, 'practice', guide));
  expect(loadPractice(folder)).toEqual({
    ok: false,
    issues: [{ file: `practice/${drill}`, line: 1, sentence: `There is no ${guide} beside it.` }],
  });
});

test('a sentence that does not fit the strip is a mistake', () => {
  const scene = { id: 'one', do: 'x'.repeat(151), until: { finished: true } };
  const read = readGuide({ name: 'One', about: 'One', level: 1, scenes: [scene], slips: [] });
  expect(read).toMatchObject({
    ok: false,
    problems: [{ sentence: 'do has 151 letters, where 150 at most can be read at a glance.' }],
  });
});
