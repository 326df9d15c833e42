import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import { type Finding, found, parsed, programs, type Source, sourcesOf } from './source.ts';

/** Written in two parts, so that this file does not find itself. */
const either = (...words: readonly string[]): RegExp => new RegExp(`\\b(${words.join('|')})\\b`);
const unfinished = either(`TO${'DO'}`, `FIX${'ME'}`, `XX${'X'}`);
const silenced = new RegExp(
  [`@ts-${'ignore'}`, `@ts-${'expect-error'}`, `@ts-${'nocheck'}`, `biome-${'ignore'}`].join('|'),
);

/** Marks in comments: what is unfinished, and errors that were silenced instead of mended. */
function marksInComments(source: Source): readonly Finding[] {
  return parsed(source).comments.flatMap(({ value, start }) => {
    if (unfinished.test(value))
      return [found(source, start, 'unfinished: do it, or open an issue.')];
    return silenced.test(value) ? [found(source, start, 'a silenced error: mend it.')] : [];
  });
}

const runners = ['test', 'it', 'describe', 'suite'];
const partOfTests = ['only', 'skip', 'fixme', 'fails', 'skipIf', 'runIf'];

/** `test.only` and its like, and `as any` or `as unknown as`, which silence the types. */
function marksInCode(source: Source): readonly Finding[] {
  const findings: Finding[] = [];
  new Visitor({
    MemberExpression({ object, property, start }) {
      if (object.type !== 'Identifier' || property.type !== 'Identifier') return;
      if (runners.includes(object.name) && partOfTests.includes(property.name))
        findings.push(found(source, start, `${object.name}.${property.name}: run all of them.`));
    },
    TSAsExpression({ typeAnnotation, start }) {
      if (typeAnnotation.type === 'TSAnyKeyword' || typeAnnotation.type === 'TSUnknownKeyword')
        findings.push(found(source, start, 'a silenced type: parse it, or say its type.'));
    },
    TSNonNullExpression({ start }) {
      findings.push(found(source, start, 'a silenced undefined: say what happens without it.'));
    },
  }).visit(parsed(source).program);
  return findings;
}

const sources = sourcesOf(programs);
const one = (text: string): Source => ({ path: 'tests/x.test.ts', text });

test('nothing is left unfinished, left out or silenced', () => {
  expect(sources.flatMap(marksInComments)).toEqual([]);
  expect(sources.flatMap(marksInCode)).toEqual([]);
});

test.each([
  `// TO${'DO'}: later`,
  `/* FIX${'ME'} */ const a = 1;`,
  `// @ts-${'ignore'}`,
  `// @ts-${'expect-error'} for now`,
  `/** biome-${'ignore'} lint: why */`,
])('a mark in a comment is found: %s', (text) => {
  expect(marksInComments(one(text))).toHaveLength(1);
});

test.each([
  "test.only('x', () => {});",
  "describe.skip('x', () => {});",
  "test.fixme('x', () => {});",
  'const a = b as any;',
  'const a = b as unknown as string;',
  'const a = b!;',
])('a mark in code is found: %s', (text) => {
  expect(marksInCode(one(text))).toHaveLength(1);
});

test('a word that only looks like a mark is let through', () => {
  const text = "const todo = list.only('x'); const skip = test.each; const a = b as const;";
  expect(marksInCode(one(text))).toEqual([]);
  expect(marksInComments(one('// the only one; skip it'))).toEqual([]);
});
