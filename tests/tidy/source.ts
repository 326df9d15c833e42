import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type ESTree, type ParseResult, parseSync, Visitor } from 'vite';

/** A text file of the project: its path from the top, with forward slashes, and what it says. */
export type Source = { readonly path: string; readonly text: string };

/** One thing that is not as it should be, as a line to read: where, what, and what to do instead. */
export type Finding = string;

export const top = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

const notOurs = ['node_modules', 'dist', '.git', 'coverage', 'reports', 'test-results'];
const binary = /\.(png|jpe?g|webp|woff2?|ico|pdf|zip|gz)$/;

/** Every text file of the project whose path matches. */
export function sourcesOf(matching: RegExp): readonly Source[] {
  const paths: string[] = [];
  const walk = (folder: string): void => {
    for (const entry of readdirSync(join(top, folder), { withFileTypes: true })) {
      if (notOurs.includes(entry.name) || entry.name.startsWith('.stryker-tmp')) continue;
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else if (entry.isFile() && !binary.test(path)) paths.push(path.split(sep).join('/'));
    }
  };
  walk('');
  return paths
    .filter((path) => matching.test(path))
    .sort()
    .map((path) => ({ path, text: readFileSync(join(top, path), 'utf8') }));
}

export const programs = /^(src|tests)\/.*\.tsx?$/;

export function parsed(source: Source): ParseResult {
  const result = parseSync(source.path, source.text);
  if (result.errors.length > 0) throw new Error(`${source.path}: ${result.errors[0]?.message}`);
  return result;
}

export const lineAt = (text: string, offset: number): number =>
  text.slice(0, offset).split('\n').length;

export const found = (source: Source, offset: number, sentence: string): Finding =>
  `${source.path}:${lineAt(source.text, offset)} ${sentence}`;

/** One import or re-export: where it points, whether only types pass, and where it stands. */
export type Import = { readonly to: string; readonly onlyTypes: boolean; readonly offset: number };

export function importsOf(source: Source): readonly Import[] {
  const { module } = parsed(source);
  const imports = module.staticImports.map((one) => ({
    to: one.moduleRequest.value,
    onlyTypes: one.entries.length > 0 && one.entries.every((entry) => entry.isType),
    offset: one.start,
  }));
  const reExports = module.staticExports.flatMap((one) =>
    one.entries.flatMap((entry) =>
      entry.moduleRequest === null
        ? []
        : [{ to: entry.moduleRequest.value, onlyTypes: entry.isType, offset: one.start }],
    ),
  );
  const later = module.dynamicImports.map((one) => ({
    to: source.text.slice(one.moduleRequest.start + 1, one.moduleRequest.end - 1),
    onlyTypes: false,
    offset: one.start,
  }));
  return [...imports, ...reExports, ...later, ...typesNamedInPlace(source)];
}

/** `import('./x.ts').X` where a type is expected. */
function typesNamedInPlace(source: Source): readonly Import[] {
  const imports: Import[] = [];
  new Visitor({
    TSImportType: ({ source: { value }, start }) =>
      void imports.push({ to: value, onlyTypes: true, offset: start }),
  }).visit(parsed(source).program);
  return imports;
}

/** The file of `src` that an import of another file of `src` means, or undefined for a package. */
export function fileMeant(from: string, to: string): string | undefined {
  if (to.startsWith('.')) return posix.join(posix.dirname(from), to);
  return to.startsWith('#') ? `src/${to.slice(1)}` : undefined;
}

/** The folder of `src` that a file lies in; for a file at its top, the file's own name. */
export const roomOf = (path: string): string => path.split('/')[1] ?? '';

export type Node = ESTree.Node;
export type Program = ESTree.Program;
