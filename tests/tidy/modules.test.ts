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

/** Invariants and lists that the program offers to whoever checks it. */
const forChecks = ['isBalanced', 'eventTypes', 'partNames'];

/** What a file of `src` exports and the program never asks for, not even that file: of no use, or to tests alone. */
function unusedExports(files: readonly Source[], build: readonly Source[]): readonly Finding[] {
  const times = new Map<string, number>();
  for (const { text } of [...files, ...build])
    for (const word of text.match(/\w+/g) ?? []) times.set(word, (times.get(word) ?? 0) + 1);
  const isAsked = (name: string): boolean => (times.get(name) ?? 0) > 1;
  return files.flatMap((source) =>
    parsed(source).module.staticExports.flatMap((one) =>
      one.entries.flatMap(({ isType, exportName: { name } }) =>
        isType || name === null || forChecks.includes(name) || isAsked(name)
          ? []
          : [found(source, one.start, `exports ${name}, which the program does not ask for.`)],
      ),
    ),
  );
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

test('what a file of the program exports is asked for', () => {
  const build = sourcesOf(/^vite\.config\.ts$/);
  expect(
    unusedExports(
      sources.filter(({ path }) => path.startsWith('src/')),
      build,
    ),
  ).toEqual([]);
  const made = { path: 'src/made.ts', text: 'export const used = 1;\nexport const left = 2;\n' };
  const user = { path: 'src/user.ts', text: "import { used } from './made.ts';\nused;\n" };
  expect(unusedExports([made, user], [])).toEqual([
    'src/made.ts:2 exports left, which the program does not ask for.',
  ]);
});
