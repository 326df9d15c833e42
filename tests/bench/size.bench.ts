/**
 * What the program weighs when it is first loaded, and how long its sheets take to check: `npm run bench:size`. It
 * builds into reports/size, follows what the page asks for before anybody taps, and adds it up. It is no test:
 * nothing fails, but what is over its budget or does not belong into the page is said.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build, type Rolldown } from 'vite';
import { issuesFrom } from '#rehearsal/checkSheet.ts';
import { loadSheets } from '#sheets/loadSheets.ts';

const root = join(import.meta.dirname, '..', '..');
const out = join(root, 'reports', 'size');

/** Units: bytes after gzip; fonts are compressed already. */
const budgets = { script: 60_000, fonts: 60_000 };
/** Units: milliseconds. */
const checkBudgetMs = 1000;

const built = await build({
  configFile: join(root, 'vite.config.ts'),
  logLevel: 'warn',
  build: { outDir: '../reports/size', emptyOutDir: true },
});
const { output } = built as Rolldown.RolldownOutput; // one build, not watched: never an array or a watcher
const chunks = output.filter((one) => one.type === 'chunk');

/** The entry and all that it imports before it runs. */
function firstLoad(): readonly Rolldown.OutputChunk[] {
  const wanted = chunks.filter(({ isEntry }) => isEntry).map(({ fileName }) => fileName);
  const seen = new Map<string, Rolldown.OutputChunk>();
  for (let name = wanted.pop(); name !== undefined; name = wanted.pop()) {
    const chunk = chunks.find(({ fileName }) => fileName === name);
    if (!chunk || seen.has(name)) continue;
    seen.set(name, chunk);
    wanted.push(...chunk.imports);
  }
  return [...seen.values()];
}

const read = (name: string): Buffer => readFileSync(join(out, name));
const gzipped = (name: string): number => gzipSync(read(name), { level: 9 }).length;

/** Fonts that a page in English asks for: those without a range of letters, or whose range has the first 256. */
function firstFonts(styles: readonly string[]): readonly string[] {
  const faces = styles.flatMap(
    (name) =>
      read(name)
        .toString()
        .match(/@font-face\s*{[^}]*}/g) ?? [],
  );
  const asked = faces.filter(
    (face) => !/unicode-range/.test(face) || /U\+(\?\?|0{1,4}-0{0,2}FF)/i.test(face),
  );
  const fonts = asked.flatMap((face) => face.match(/[^/(]+\.woff2/) ?? []);
  return fonts.map((name) => `assets/${name}`);
}

const kilo = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;
const sum = (sizes: readonly number[]): number => sizes.reduce((all, size) => all + size, 0);

function row(what: string, names: readonly string[], weigh = gzipped, budget?: number): void {
  const raw = sum(names.map((name) => read(name).length));
  const weight = sum(names.map(weigh));
  const said =
    budget === undefined
      ? ''
      : weight <= budget
        ? `within ${kilo(budget)}`
        : `OVER ${kilo(budget)}`;
  console.log(`| ${what} | ${names.length} | ${kilo(raw)} | ${kilo(weight)} | ${said} |`);
}

const first = firstLoad();
const scripts = first.map(({ fileName }) => fileName);
const files = output.map(({ fileName }) => fileName);
const styles = files.filter((name) => name.endsWith('.css'));
const workers = files.filter((name) => /worker/i.test(name) && name.endsWith('.js'));
const later = chunks.map(({ fileName }) => fileName).filter((name) => !scripts.includes(name));
const ids = sheetIds();
const sheetFiles = later.filter((name) => ids.some((id) => name.startsWith(`assets/${id}-`)));
const others = later.filter((name) => !sheetFiles.includes(name) && !workers.includes(name));

function sheetIds(): readonly string[] {
  const loaded = loadSheets(join(root, 'checklists'));
  return loaded.ok ? loaded.sheets.map(({ id }) => id) : [];
}

console.log('\n| what | files | as it is | gzip | budget |\n| --- | --- | --- | --- | --- |');
row('script of the first load', scripts, gzipped, budgets.script);
row(
  'fonts of the first load (woff2)',
  firstFonts(styles),
  (name) => read(name).length,
  budgets.fonts,
);
row('styles', styles);
row('page', ['index.html']);
row('worker of the journal, started beside it', workers);
row('sheets, each loaded when a case is opened with it', sheetFiles);
row('other parts, loaded when they are wanted', others);

/** What the first load is made of: our folders and packages, before it is made smaller. */
const parts = new Map<string, number>();
for (const { modules } of first)
  for (const [id, { renderedLength }] of Object.entries(modules)) {
    const path = id.replaceAll('\\', '/');
    const inPackage = path
      .split('/node_modules/')
      .at(-1)
      ?.match(/^(@[^/]+\/)?[^/]+/)?.[0];
    const name = path.includes('/node_modules/')
      ? `package ${inPackage}`
      : (path.match(/\/(src\/screens\/[^/]+|src\/[^/]+)/)?.[1] ?? 'built');
    parts.set(name, (parts.get(name) ?? 0) + renderedLength);
  }
console.log('\n| in the first load | before minifying |\n| --- | --- |');
for (const [name, length] of [...parts].sort((one, other) => other[1] - one[1]))
  if (length >= 1000) console.log(`| ${name} | ${kilo(length)} |`);

const { dependencies }: { dependencies: Record<string, string> } = JSON.parse(
  readFileSync(join(root, 'package.json'), 'utf8'),
);
const strangers = [...parts.keys()].filter(
  (name) => name.startsWith('package ') && !Object.hasOwn(dependencies, name.slice(8)),
);
const readers = [...parts.keys()].filter(
  (name) => name === 'package yaml' || name === 'src/sheets',
);
const foreign =
  strangers.length > 0
    ? `Not a dependency of the page: ${strangers.join(', ')}.`
    : 'No package but its dependencies.';
const reading =
  readers.length > 0
    ? `It carries ${readers.join(' and ')}.`
    : 'No YAML reader, and nothing that checks sheets.';
console.log(`\n${foreign} ${reading}`);

/** Milliseconds on the clock, best of five. */
function best(work: () => unknown): number {
  const times = [1, 2, 3, 4, 5].map(() => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return Math.min(...times);
}

const folder = join(root, 'checklists');
const checked = best(() => loadSheets(folder));
const played = best(() => loadSheets(folder, issuesFrom));
const said = checked <= checkBudgetMs ? 'within' : 'OVER';
console.log(
  `\n${ids.length} sheets are read and checked in ${checked.toFixed(0)} ms, ${said} ${checkBudgetMs} ms; ` +
    `played with the engine as well in ${played.toFixed(0)} ms (best of five).`,
);
