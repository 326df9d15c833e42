import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import {
  type Finding,
  found,
  lineAt,
  type Node,
  parsed,
  programs,
  type Source,
  sourcesOf,
} from './source.ts';

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
const partOfTests = ['only', 'skip', 'fixme', 'fails', 'skipIf', 'runIf', `to${'do'}`];

/** The same in files that are no program: sheets, drills, style sheets, the page and its worker. */
const marksInText = (source: Source): readonly Finding[] =>
  source.text
    .split('\n')
    .flatMap((line, index) =>
      unfinished.test(line)
        ? [`${source.path}:${index + 1} unfinished: do it, or open an issue.`]
        : [],
    );

/** `test.only` and its like, and what silences the types: a parser says why, in a comment beside it. */
function marksInCode(source: Source): readonly Finding[] {
  const { program, comments } = parsed(source);
  const explained = new Set(comments.map(({ end }) => lineAt(source.text, end)));
  const findings: Finding[] = [];
  new Visitor({
    MemberExpression({ object, property, start }) {
      if (property.type !== 'Identifier' || !partOfTests.includes(property.name)) return;
      const runner = rootOf(object);
      if (runner !== undefined && runners.includes(runner))
        findings.push(found(source, start, `${runner}.${property.name}: run all of them.`));
    },
    TSAsExpression({ typeAnnotation, start, end }) {
      if (source.text.slice(typeAnnotation.start, end) === 'const') return;
      const isAnything = ['TSAnyKeyword', 'TSUnknownKeyword'].includes(typeAnnotation.type);
      const line = lineAt(source.text, end);
      const isExplained = explained.has(line) || explained.has(lineAt(source.text, start) - 1);
      if (isAnything || !isExplained)
        findings.push(found(source, start, 'a silenced type: parse it, or say beside it why.'));
    },
    TSNonNullExpression({ start }) {
      findings.push(found(source, start, 'a silenced undefined: say what happens without it.'));
    },
  }).visit(program);
  return findings;
}

/** `test` in `test.concurrent` and in `test.describe.parallel`. */
function rootOf(node: Node): string | undefined {
  if (node.type === 'Identifier') return node.name;
  return node.type === 'MemberExpression' ? rootOf(node.object) : undefined;
}

const texts = /^(src|tests|checklists)\/.*\.(ya?ml|css|html|js|json)$/;
const sources = sourcesOf(programs);
const one = (text: string): Source => ({ path: 'tests/x.test.ts', text });

test('nothing is left unfinished, left out or silenced', () => {
  expect(sources.flatMap(marksInComments)).toEqual([]);
  expect(sources.flatMap(marksInCode)).toEqual([]);
  expect(sourcesOf(texts).flatMap(marksInText)).toEqual([]);
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
  "test.concurrent.skip('x', () => {});",
  "test.describe.only('x', () => {});",
  `test.to${'do'}('x');`,
  'const a = b as any;',
  'const a = b as unknown; // whatever',
  'const a = b as string;',
  'const a = b!;',
])('a mark in code is found: %s', (text) => {
  expect(marksInCode(one(text))).toHaveLength(1);
});

test('a cast is let through where a comment says why', () => {
  expect(marksInCode(one('// a parser: checked above\nconst a = b as string;'))).toEqual([]);
  expect(marksInCode(one('const a = b as string; // a parser: checked above'))).toEqual([]);
});

test('a mark in a sheet or a style sheet is found', () => {
  const path = 'checklists/x.yaml';
  expect(marksInText({ path, text: `title: X\n# TO${'DO'}: later` })).toEqual([
    `${path}:2 unfinished: do it, or open an issue.`,
  ]);
  expect(marksInText({ path, text: 'title: what to do' })).toEqual([]);
});

test('a word that only looks like a mark is let through', () => {
  const text = "const todo = list.only('x'); const skip = test.each; const a = b as const;";
  expect(marksInCode(one(text))).toEqual([]);
  expect(marksInComments(one('// the only one; skip it'))).toEqual([]);
});
