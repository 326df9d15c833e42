import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

/** The values that this folder promises: see README.md beside it. */
const promised = [
  ...numbers(1, 50), // checklist, counts, discrepancies, antibiotics
  ...numbers(76, 87), // published arithmetic
];

function numbers(from: number, to: number): readonly string[] {
  return Array.from(
    { length: to - from + 1 },
    (_, index) => `CV-${String(from + index).padStart(2, '0')}`,
  );
}

const folder = import.meta.dirname;
const files = readdirSync(folder)
  .filter((name) => name.endsWith('.test.ts') && name !== 'complete.test.ts')
  .map((name) => readFileSync(join(folder, name), 'utf8'));

/** Every check with the line above it. */
const checks = files.flatMap((text) =>
  [...text.matchAll(/^(.*)\ntest\('(CV-\d\d): \S/gm)].map(([, above = '', number = '']) => ({
    number,
    isSourced: above.startsWith('// ') || text.includes('Source of every check of this file'),
  })),
);

test('each published value has one check', () => {
  expect(checks.map(({ number }) => number).sort()).toEqual(promised);
});

test('each check names its source beside it', () => {
  expect(checks.filter(({ isSourced }) => !isSourced)).toEqual([]);
});
