import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';

// Each run starts a Node of its own, which takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const passing = 'drill: fine\nsheet: ports-and-swabs\nsteps:\n  - expect: { verdict: open }\n';
const failing = 'drill: wrong\nsheet: ports-and-swabs\nsteps:\n  - finish: {}\n';
const unknown = 'drill: odd\nsheet: ports-and-swabs\nsteps:\n  - push: {}\n';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'drills-'));
  writeFileSync(join(folder, 'passing.yaml'), passing);
  writeFileSync(join(folder, 'failing.yaml'), failing);
  writeFileSync(join(folder, 'both.yaml'), `${passing}---\n${failing}`);
  writeFileSync(join(folder, 'unknown.yaml'), unknown);
  writeFileSync(join(folder, 'broken.yaml'), 'drill: "one\n');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...files: readonly string[]) =>
  spawnSync('node_modules/.bin/node', ['src/drill/cli.ts', ...files], {
    encoding: 'utf8',
    env: { ...process.env, INIT_CWD: folder },
  });

test('drills that pass end with 0, a line each and the sum', () => {
  const { status, stdout } = run(join(folder, 'passing.yaml'));
  expect(status).toBe(0);
  expect(stdout).toBe('passed: fine\n1 passed, 0 failed\n');
});

test('a drill that fails ends with 1 and says file and line', () => {
  const { status, stdout } = run(join(folder, 'both.yaml'), 'failing.yaml');
  expect(status).toBe(1);
  expect(stdout).toMatch(/^passed: fine$/m);
  expect(stdout).toMatch(/^FAILED: wrong \(.*both\.yaml:9: finish was refused with held/m);
  expect(stdout).toMatch(/^FAILED: wrong \(failing\.yaml:4: /m);
  expect(stdout).toMatch(/^1 passed, 2 failed$/m);
});

test.each([
  ['missing.yaml', /^missing\.yaml:1: The file cannot be read\.$/m],
  ['unknown.yaml', /^unknown\.yaml:4: push is no command\.$/m],
  ['broken.yaml', /^broken\.yaml:\d+: It is not YAML/m],
  ['.', /^\.:1: The file cannot be read\.$/m],
])('%s cannot be read: 2, with file and line; the others are run', (file, expected) => {
  const { status, stdout, stderr } = run(file, 'failing.yaml', 'passing.yaml');
  expect(status).toBe(2);
  expect(stderr).toMatch(expected);
  expect(stdout).toMatch(/^1 passed, 1 failed$/m);
});

test('without a file it says how it is called, and ends with 2', () => {
  const { status, stderr } = run();
  expect(status).toBe(2);
  expect(stderr).toMatch(/npm run drill -- FILE/);
});
