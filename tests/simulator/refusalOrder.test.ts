import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { refusals } from '#engine/refusals.ts';

const order = Object.keys(refusals);

/** The codes that a docstring lists after "Refuses, first match wins:", in its order. */
function listsIn(text: string): readonly (readonly string[])[] {
  return [...text.matchAll(/Refuses, first match wins: ([^.]*)\./g)].map(([, list = '']) =>
    list
      .replace(/\([^)]*\)/g, '')
      .split(/[\s*,;:]+/)
      .filter((word) => order.includes(word)),
  );
}

/** The first pair of codes that stands the other way round in the table. */
function outOfOrder(codes: readonly string[]): string | undefined {
  const places = codes.map((code) => order.indexOf(code));
  const at = places.findIndex((place, i) => i > 0 && place < (places[i - 1] ?? 0));
  return at < 0 ? undefined : `${codes[at - 1]} before ${codes[at]}`;
}

const files = readdirSync('src/engine', { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => ({ name, lists: listsIn(readFileSync(join('src/engine', name), 'utf8')) }))
  .filter(({ lists }) => lists.length > 0);

test('every decision says its refusals in the order of the table', () => {
  expect(files.length).toBeGreaterThan(10);
  const wrong = files.flatMap(({ name, lists }) =>
    lists.flatMap(
      (list) =>
        outOfOrder(list)
          ?.split('\n')
          .map((pair) => `${name}: ${pair}`) ?? [],
    ),
  );
  expect(wrong).toEqual([]);
});

test('a list in another order is told', () => {
  const [list = []] = listsIn('Refuses, first match wins: not-enough, unknown-line (the line).');
  expect(outOfOrder(list)).toBe('not-enough before unknown-line');
});
