import { expect, test } from 'vitest';
import { type Finding, found, parsed, programs, type Source, sourcesOf } from './source.ts';

/** Files whose tool demands a default export. */
const isBuildFile = (path: string): boolean => path.endsWith('.config.ts');

function defaultExports(source: Source): readonly Finding[] {
  if (isBuildFile(source.path)) return [];
  return parsed(source).module.staticExports.flatMap((one) =>
    one.entries
      .filter(({ exportName }) => exportName.kind === 'Default' || exportName.name === 'default')
      .map(() => found(source, one.start, 'a default export: give it a name.')),
  );
}

function onlyReExports(source: Source): readonly Finding[] {
  const { program } = parsed(source);
  const passesOn = (type: string, hasSource: boolean) =>
    type === 'ExportAllDeclaration' || (type === 'ExportNamedDeclaration' && hasSource);
  const others = program.body.filter((statement) => {
    const hasSource = 'source' in statement && statement.source !== null;
    return !passesOn(statement.type, hasSource) && statement.type !== 'ImportDeclaration';
  });
  const reExports = program.body.some(({ type }) => type.startsWith('Export'));
  return others.length === 0 && reExports
    ? [`${source.path} only re-exports: import from the file that defines the thing.`]
    : [];
}

const sources = sourcesOf(programs);
const one = (text: string): Source => ({ path: 'src/parts/x.ts', text });

test('exports have names, and no file only re-exports', () => {
  expect(sources.flatMap(defaultExports)).toEqual([]);
  expect(sources.flatMap(onlyReExports)).toEqual([]);
});

test.each([
  'export default 1;',
  'export default function f() {}',
  'const a = 1; export { a as default };',
])('a default export is found: %s', (text) => {
  expect(defaultExports(one(text))).toHaveLength(1);
});

test('a build file may have a default export', () => {
  const path = 'tests/browser/playwright.config.ts';
  expect(defaultExports({ path, text: 'export default {};' })).toEqual([]);
});

test.each([
  "export * from './a.ts';",
  "export { a } from './a.ts'; export type { B } from './b.ts';",
])('a file that only re-exports is found: %s', (text) => {
  expect(onlyReExports(one(text))).toHaveLength(1);
  expect(onlyReExports(one(`${text} export const own = 1;`))).toEqual([]);
});
