import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import { lineAt, parsed, programs, type Source, sourcesOf } from './source.ts';

type Pattern = { readonly at: string; readonly pattern: RegExp };

/** Every pattern that is written in a file. */
function patternsOf(source: Source): readonly Pattern[] {
  const found: Pattern[] = [];
  new Visitor({
    Literal(node) {
      if (!('regex' in node) || !node.regex) return;
      const { pattern, flags } = node.regex;
      const at = `${source.path}:${lineAt(source.text, node.start)}`;
      found.push({ at, pattern: new RegExp(pattern, flags.replace(/[gy]/g, '')) });
    },
  }).visit(parsed(source).program);
  return found;
}

/** Texts on which a pattern that tries the same again and again takes for ever. */
const length = 10_000;
const slowTexts = [...'a0 -."<=:/\\,_A'].flatMap((letter) => [
  letter.repeat(length),
  `${letter.repeat(length)}!`,
  `"${letter.repeat(length)}\n`,
  `${`a${letter}`.repeat(length / 2)}\u0000`,
]);

/** Units: milliseconds for one text. A pattern that needs time in proportion takes far less than one. */
const limitMs = 200;

function slowestMs({ pattern }: Pattern): number {
  let slowest = 0;
  for (const text of slowTexts) {
    const begun = performance.now();
    pattern.test(text);
    slowest = Math.max(slowest, performance.now() - begun);
    if (slowest > limitMs) break;
  }
  return slowest;
}

test('no pattern of the program takes long on a text made to be slow', { timeout: 60_000 }, () => {
  const patterns = sourcesOf(programs)
    .filter(({ path }) => path.startsWith('src/'))
    .flatMap(patternsOf);
  expect(patterns.length).toBeGreaterThan(20);
  const slow = patterns.filter((one) => slowestMs(one) > limitMs);
  expect(
    slow.map(
      ({ at, pattern }) => `${at} ${pattern} takes long: write it without a loop in a loop.`,
    ),
  ).toEqual([]);
});

test('a pattern with a loop behind a loop is found', () => {
  const [one] = patternsOf({ path: 'src/x.ts', text: 'const slow = /^a*a*a*$/;' });
  if (!one) throw new Error('The pattern was not found.');
  const begun = performance.now();
  one.pattern.test(`${'a'.repeat(2000)}!`);
  expect(performance.now() - begun).toBeGreaterThan(20);
});
