import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { small } from '../sheets/small.ts';

// Each run starts a Node of its own, which takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const folder = mkdtempSync(join(tmpdir(), 'sheets-'));
afterAll(() => rmSync(folder, { recursive: true }));

function written(name: string, text: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const sheet = (...words: readonly string[]) => sheetWith({}, ...words);

function sheetWith(env: Readonly<Record<string, string>>, ...words: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(
    'node_modules/.bin/node',
    ['src/desk/cli.ts', ...words],
    {
      encoding: 'utf8',
      env: { ...process.env, ...env },
    },
  );
  return { status, stdout, stderr };
}

test('a sheet without a mistake is said to have none, with exit 0', () => {
  const { status, stdout, stderr } = sheet('check', written('small.yaml', small));
  expect(stderr).toBe('');
  expect(stdout).toMatch(
    /no mistake \(7 lines, 3 checkpoints with \d+ steps, 1 specimen, 2 closures\)/,
  );
  expect(stdout).toMatch(/1 without a mistake, 0 with mistakes\n$/);
  expect(status).toBe(0);
});

test('every mistake is said at once, of every file, with exit 1', () => {
  const wrong = small.replace('pack: 5', 'pack: 4').replace('count: final', 'count: finel');
  const { status, stdout, stderr } = sheet(
    'check',
    written('small.yaml', wrong),
    'checklists/ports-and-swabs.yaml',
  );
  expect(stderr).toContain(
    'sections.swabs.lines.swab.opening is 5, but should be whole packs of 4.',
  );
  expect(stderr).toContain('perhaps "final" is meant.');
  expect(stdout).toMatch(/1 without a mistake, 1 with mistakes\n$/);
  expect(status).toBe(1);
});

test('a sheet that can never be closed is told with the shortest way there', () => {
  const step = 'who: surgeon, ask: Is all counted?, short: Counted, answer: counts';
  const stuck = small.replace('      stones:\n', `      pause: { ${step} }\n      stones:\n`);
  const { status, stderr } = sheet('check', written('small.yaml', stuck));
  expect(stderr).toContain('checkpoints.time-out.steps.pause.answer is never answered in time');
  expect(stderr).toContain(
    'The shortest way there:\n  - checkpoint: { id: sign-in, answers: usual }',
  );
  expect(status).toBe(1);
});

test.each([
  ['a file that is not there', () => join(folder, 'nothing.yaml'), 'cannot be read'],
  ['a folder', () => folder, 'cannot be read'],
  [
    'a file that is no UTF-8',
    () =>
      written(
        'small.yaml',
        Buffer.concat([Buffer.from('sheet: small\ntitle: '), Buffer.of(0xe9, 0x74)]),
      ),
    'In small.yaml, line 2, column 8, the text cannot be read (a byte that is no letter in UTF-8)',
  ],
  [
    'a file in UTF-16',
    () => written('small.yaml', Buffer.from('\ufeffsheet: small\n', 'utf16le')),
    'the text cannot be read (text in UTF-16), but should be text saved as UTF-8.',
  ],
])('%s is told, with exit 2', (_, path, words) => {
  const { status, stderr } = sheet('check', path());
  expect(stderr).toContain(words);
  expect(status).toBe(2);
});

test('a shared file is checked by itself', () => {
  const wrong = sheet('check', written('steps.yaml', 'shared: steps\nstep: {}\n'));
  expect(wrong.stderr).toContain('step is not a word of the format here');
  expect(wrong.status).toBe(1);
  expect(sheet('check', 'checklists/shared/trays.yaml').status).toBe(0);
});

test('what changed between two sheets is said in words', () => {
  const before = written('small.yaml', small);
  const later = mkdtempSync(join(folder, 'later-'));
  const after = join(later, 'small.yaml');
  writeFileSync(
    after,
    small
      .replace('size-mm: 12', 'size-mm: 12, film: no')
      .replace('ask: Is it dry?', 'ask: Is all dry?')
      .replace(
        '      tube: { name: Tube }\n',
        '      tube: { name: Tube }\n      clip: { name: Clip, stay: yes }\n',
      ),
  );
  const { status, stdout } = sheet('diff', before, after);
  expect(stdout.split('\n')).toEqual([
    'Lines',
    expect.stringMatching(/^ {2}Clip: is new \(section Things; class small; opening 0;.* stay yes/),
    '  Port: film is no; it was varies.',
    'Questions',
    '  Last look before Abdomen, Dry: ask is Is all dry?; it was Is it dry?.',
    '',
  ]);
  expect(status).toBe(0);
  expect(sheet('diff', before, before).stdout).toBe('They say the same.\n');
});

test('a sheet with a mistake is compared with nothing', () => {
  const wrong = written('small.yaml', small.replace('pack: 5', 'pack: 4'));
  const { status, stdout, stderr } = sheet('diff', wrong, 'checklists/ports-and-swabs.yaml');
  expect(stdout).toBe('');
  expect(stderr).toContain('whole packs of 4');
  expect(status).toBe(1);
  expect(sheet('diff', join(folder, 'nothing.yaml'), wrong).status).toBe(2);
});

test('a command that is not understood says what can be done, with exit 2', () => {
  for (const words of [[], ['check'], ['diff', 'one'], ['mend', 'x.yaml']]) {
    const { status, stderr } = sheet(...words);
    expect(stderr).toContain('npm run sheet -- check FILE...');
    expect(status).toBe(2);
  }
});

test('the paper form is written as a file that needs nothing else', () => {
  const out = join(folder, 'form.html');
  const { status, stdout } = sheet('print', 'checklists/ports-and-swabs.yaml', out);
  expect(stdout).toBe(`Written: ${out}\n`);
  expect(status).toBe(0);
  const html = readFileSync(out, 'utf8');
  expect(html).toContain('Ports and swabs, a teaching sheet');
  expect(html).toContain('@font-face');
  expect(html.match(/(?:src|href)="/g)).toBeNull();
});

test('a form that cannot be made says why, with exit 2', () => {
  const out = join(folder, 'form.pdf');
  const { status, stderr } = sheetWith(
    { CHROMIUM: join(folder, 'no-chromium') },
    'print',
    'checklists/ports-and-swabs.yaml',
    out,
  );
  expect(stderr).toContain('A PDF needs Chromium, which is not at');
  expect(status).toBe(2);
  const lost = join(folder, 'nowhere', 'form.html');
  expect(sheet('print', 'checklists/ports-and-swabs.yaml', lost).stderr).toContain('be written.');
});
