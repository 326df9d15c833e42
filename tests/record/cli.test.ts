import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { converted, type Wish } from '#record/converted.ts';
import type { WholeRecord } from '#record/wholeRecord.ts';
import { readPhraseBook } from '#words/languages.ts';
import { readPhrasesFrom } from '#words/say.ts';
import { eventsOfDrills, exported } from '../support/records.ts';

// Each run starts a Node of its own, which takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

let folder = '';
let record: WholeRecord;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'records-'));
  const made = await exported(eventsOfDrills('f01-three-loops.yaml')[0] ?? []);
  record = made.record;
  const lines = made.text.split('\n');
  writeFileSync(join(folder, 'case.txt'), made.text);
  writeFileSync(join(folder, 'changed.txt'), made.text.replace('loop', 'lope'));
  writeFileSync(join(folder, 'cut.txt'), lines.slice(0, 4).join('\n'));
  writeFileSync(join(folder, 'letter.txt'), 'Dear colleague,\n');
  writeFileSync(join(folder, 'picture.png'), Buffer.from([0x89, 0x50, 0xff, 0xfe, 0]));
  writeFileSync(join(folder, 'empty.txt'), '');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...words: readonly string[]) =>
  spawnSync('node_modules/.bin/node', ['src/convert/cli.ts', ...words], {
    encoding: 'utf8',
    env: { ...process.env, INIT_CWD: folder },
  });

const css = readFileSync('src/record/record.css', 'utf8');
const wishes: readonly (readonly [string, Wish])[] = [
  ['--to csv', { form: 'csv' }],
  ['--to csv --only specimens', { form: 'csv', only: 'specimens' }],
  ['--to json', { form: 'json' }],
  ['--to html', { form: 'html' }],
  ['--to fhir', { form: 'fhir' }],
];

test.each(wishes)(
  '%s writes what the program on the tablet writes, byte for byte',
  (words, wish) => {
    const { status, stdout, stderr } = run('case.txt', ...words.split(' '));
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(Buffer.from(stdout)).toEqual(Buffer.from(converted(record, wish, css).text));
  },
);

test('a page in German is what the tablet writes in German; files for other programs stay English', async () => {
  const book = await readPhraseBook('de');
  readPhrasesFrom(() => book);
  const pages = wishes.map(([, wish]) => converted(record, wish, css).text);
  readPhrasesFrom(() => undefined);
  for (const [place, [words, wish]] of wishes.entries()) {
    const { stdout } = run('case.txt', ...words.split(' '), '--language', 'de');
    expect(Buffer.from(stdout)).toEqual(Buffer.from(pages[place] ?? ''));
    if (wish.form !== 'html') expect(stdout).toBe(converted(record, wish, css).text);
  }
  const page = pages[wishes.findIndex(([, { form }]) => form === 'html')];
  expect(page).toContain('<html lang="de">');
  expect(page).toContain('Zähl- und Checklistenprotokoll');
  expect(run('case.txt', '--to', 'html', '--language', 'xx').stderr).toContain('no language xx.');
});

test('--out writes to a file, and never over one that is there', () => {
  expect(run('case.txt', '--to', 'json', '--out', 'out.json').status).toBe(0);
  const written = readFileSync(join(folder, 'out.json'), 'utf8');
  expect(written).toBe(converted(record, { form: 'json' }, css).text);
  const again = run('case.txt', '--to', 'json', '--out', 'case.txt');
  expect(again.status).toBe(2);
  expect(again.stderr).toBe('case.txt: The file cannot be written, or is there already.\n');
});

test.each([
  ['changed.txt', 'changed.txt: Row 1 was changed after it was written.\n'],
  ['cut.txt', 'cut.txt: This file is not complete: it ends before its last row.\n'],
  ['letter.txt', 'letter.txt: This file is not a record of a case written by this program.\n'],
  ['empty.txt', 'empty.txt: This file is not a record of a case written by this program.\n'],
  ['picture.png', 'picture.png: The file cannot be read as text.\n'],
  ['missing.txt', 'missing.txt: The file cannot be read as text.\n'],
  ['.', '.: The file cannot be read as text.\n'],
])('%s cannot be used: a sentence, exit 2, and nothing written', (file, sentence) => {
  const { status, stdout, stderr } = run(file, '--to', 'json');
  expect(status).toBe(2);
  expect(stderr).toBe(sentence);
  expect(stdout).toBe('');
});

test.each([
  [[], 'Name the file of a case.'],
  [['case.txt'], 'Say --to what.'],
  [['case.txt', 'letter.txt', '--to', 'csv'], 'Name one file.'],
  [['case.txt', '--to', 'xml'], 'There is no form xml.'],
  [['case.txt', '--to'], '--to needs a word after it.'],
  [['case.txt', '--to', 'csv', '--only', 'doses'], 'There is no table doses.'],
  [['case.txt', '--to', 'json', '--only', 'lines'], '--only is for csv.'],
  [['case.txt', '--as', 'json'], '--as is not known.'],
])(
  'words that cannot be followed, %j, are answered by a sentence and exit 2',
  (words, sentence) => {
    const { status, stdout, stderr } = run(...words);
    expect(status).toBe(2);
    expect(stderr.startsWith(`${sentence} npm run record -- FILE --to `)).toBe(true);
    expect(stdout).toBe('');
  },
);
