import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { isFine, licencesIn } from '../licencesIn.ts';
import { top } from './source.ts';

test('every package has a licence that is on the list', () => {
  const all = licencesIn(readFileSync(join(top, 'package-lock.json'), 'utf8'));
  expect(all.length).toBeGreaterThan(100);
  const wrong = all.filter((one) => !isFine(one));
  expect(wrong.map(({ name, licence }) => `${name} is under ${licence}`)).toEqual([]);
});

test('a licence that forbids something is found, in the page sooner than in a tool', () => {
  const lock = {
    packages: {
      '': { license: 'Apache-2.0' },
      'node_modules/a': { license: 'MIT', version: '1.0.0' },
      'node_modules/b': { license: 'LGPL-2.1+', version: '1.0.0' },
      'node_modules/c': { license: 'LGPL-2.1+', version: '1.0.0', dev: true },
      'node_modules/d/node_modules/@x/e': { license: '(GPL-3.0 OR MIT)', dev: true },
      'node_modules/f': { version: '1.0.0', dev: true },
      'node_modules/g': { license: 'GPL-3.0', dev: true },
    },
  };
  const all = licencesIn(JSON.stringify(lock));
  expect(all.map(({ name }) => name)).toEqual(['a', 'b', 'c', '@x/e', 'f', 'g']);
  expect(all.filter((one) => !isFine(one)).map(({ name }) => name)).toEqual(['b', 'f', 'g']);
});
