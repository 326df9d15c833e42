import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import {
  type Finding,
  found,
  type Node,
  parsed,
  programs,
  type Source,
  sourcesOf,
} from './source.ts';

/** Units: lines. */
const limits = { file: 400, testFile: 600, function: 70, component: 120, line: 120 } as const;

const isTest = (path: string): boolean => path.startsWith('tests/');
const linesOf = (text: string): number => text.trimEnd().split('\n').length;

function longFile(source: Source): readonly Finding[] {
  const limit = isTest(source.path) ? limits.testFile : limits.file;
  const lines = linesOf(source.text);
  return lines > limit
    ? [`${source.path} has ${lines} lines, the limit is ${limit}: split it.`]
    : [];
}

/** A sentence cannot be broken: a line that is one piece of text may be long. */
const isSentence = (line: string): boolean =>
  /^\s*([\w-]+: |'[\w-]+': )?(['"`]).*\2[,;]?$/.test(line);

const longLines = ({ path, text }: Source): readonly Finding[] =>
  text
    .split('\n')
    .flatMap((line, index) =>
      line.length > limits.line && !isSentence(line)
        ? [`${path}:${index + 1} has ${line.length} columns, the limit is ${limits.line}.`]
        : [],
    );

/** A function with markup is a component; one in tests may be as long as a component. */
function longFunctions(source: Source): readonly Finding[] {
  const { program } = parsed(source);
  const markup: number[] = [];
  const functions: Node[] = [];
  const see = (node: Node): void => void functions.push(node);
  new Visitor({
    JSXElement: (node) => void markup.push(node.start),
    JSXFragment: (node) => void markup.push(node.start),
    FunctionDeclaration: see,
    FunctionExpression: see,
    ArrowFunctionExpression: see,
  }).visit(program);
  return functions.flatMap(({ start, end }) => {
    const isComponent = markup.some((at) => at > start && at < end);
    const limit = isComponent || isTest(source.path) ? limits.component : limits.function;
    const lines = linesOf(source.text.slice(start, end));
    return lines > limit
      ? [found(source, start, `this function has ${lines} lines, the limit is ${limit}.`)]
      : [];
  });
}

const sources = sourcesOf(programs);
const lines = (n: number): string => 'call();\n'.repeat(n);

test('files, functions and lines keep their limits', () => {
  const limitsKept = [longFile, longFunctions, longLines];
  expect(limitsKept.flatMap((kept) => sources.flatMap(kept))).toEqual([]);
});

test('a file over its limit is found, one at the limit is not', () => {
  expect(longFile({ path: 'src/x.ts', text: lines(401) })).toHaveLength(1);
  expect(longFile({ path: 'src/x.ts', text: lines(400) })).toEqual([]);
  expect(longFile({ path: 'tests/x.ts', text: lines(601) })).toHaveLength(1);
  expect(longFile({ path: 'tests/x.ts', text: lines(600) })).toEqual([]);
});

test('a function over its limit is found, a component may be longer', () => {
  const of = (n: number, last: string) => `const f = () => {\n${lines(n)}${last}\n};`;
  expect(longFunctions({ path: 'src/x.ts', text: of(68, '') })).toHaveLength(1);
  expect(longFunctions({ path: 'src/x.ts', text: of(67, '') })).toEqual([]);
  expect(longFunctions({ path: 'src/x.tsx', text: of(100, 'return <p />;') })).toEqual([]);
  expect(longFunctions({ path: 'src/x.tsx', text: of(120, 'return <p />;') })).toHaveLength(1);
});

test('a line over its limit is found', () => {
  expect(longLines({ path: 'src/x.ts', text: `// ${'x'.repeat(118)}` })).toHaveLength(1);
  expect(longLines({ path: 'src/x.ts', text: `// ${'x'.repeat(117)}` })).toEqual([]);
  expect(longLines({ path: 'src/x.ts', text: `  what: '${'x'.repeat(200)}',` })).toEqual([]);
  expect(longLines({ path: 'src/x.ts', text: `f('${'x'.repeat(200)}');` })).toHaveLength(1);
});
