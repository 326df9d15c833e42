import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Plugin, ResolvedConfig } from 'vite';
import solid from 'vite-plugin-solid';
import { defineConfig } from 'vitest/config';

/** What src/sheets/loadSheets.ts answers, as far as the build needs it. */
type Issue = {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly field: string;
  readonly message: string;
};
type SheetHead = { readonly id: string; readonly title: string; readonly version: string };
type Loaded =
  | { readonly ok: true; readonly sheets: readonly SheetHead[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };
type Loader = {
  readonly loadSheets: (folder: string, alsoFound: unknown) => Loaded | Promise<Loaded>;
};
type Rehearsal = { readonly issuesFrom: unknown };
type PluginContext = {
  readonly addWatchFile: (file: string) => void;
  readonly error: (said: { readonly message: string; readonly stack: string }) => never;
};

/**
 * `virtual:sheets` is a list of the files of checklists/, checked and as data, so that the YAML reader stays out of
 * the bundle; `virtual:sheet/<id>` is one of them whole, read when a case is opened with it. A sheet with a mistake
 * fails the build with one line for each issue.
 */
function checkedSheets(): Plugin {
  const list = '\0virtual:sheets';
  const one = '\0virtual:sheet/';
  const root = import.meta.dirname; // not vite's root: vitest gives another one
  const read = async (context: PluginContext): Promise<readonly SheetHead[]> => {
    const folder = join(root, 'checklists');
    const loader = join(root, 'src', 'sheets', 'loadSheets.ts');
    if (!existsSync(loader) || !existsSync(folder)) return [];
    for (const file of filesIn(folder)) context.addWatchFile(file);
    // Imported when it is asked for, so that a mistake in a sheet cannot stop the configuration.
    const { loadSheets }: Loader = await import(pathToFileURL(loader).href);
    const rehearsal = join(root, 'src', 'rehearsal', 'checkSheet.ts');
    const { issuesFrom }: Rehearsal = await import(pathToFileURL(rehearsal).href);
    const loaded = await loadSheets(folder, issuesFrom);
    if (loaded.ok) return loaded.sheets;
    const message = ['The sheets have mistakes:', ...loaded.issues.map(say)].join('\n');
    return context.error({ message, stack: '' }); // where the plugin stands helps nobody who writes sheets
  };
  let sheets: Promise<readonly SheetHead[]> | undefined;
  return {
    name: 'checked-sheets',
    watchChange: () => {
      sheets = undefined;
    },
    resolveId: { filter: { id: /^virtual:sheets?(\/|$)/ }, handler: (id) => `\0${id}` },
    load: {
      filter: { id: /^\0virtual:sheets?(\/|$)/ },
      async handler(id) {
        sheets ??= read(this);
        const all = await sheets;
        if (id === list) return { code: listCode(all), map: null, moduleType: 'js' };
        const sheet = all.find((known) => known.id === id.slice(one.length));
        const text = JSON.stringify(JSON.stringify(sheet));
        return { code: `export const sheet = JSON.parse(${text});`, map: null, moduleType: 'js' };
      },
    },
  };
}

const listCode = (sheets: readonly SheetHead[]): string => {
  const entries = sheets.map(({ id, title, version }) => {
    const head = JSON.stringify({ id, title, version });
    const load = `() => import('virtual:sheet/${id}').then(({ sheet }) => sheet)`;
    return `{ ...${head}, load: ${load} }`;
  });
  return `export const sheets = [${entries.join(', ')}];`;
};

/** `virtual:sheet-texts` is the files of checklists/ as they are written, loaded only when a sheet is brought in. */
function sheetTexts(): Plugin {
  const id = '\0virtual:sheet-texts';
  const textsIn = (context: PluginContext, folder: string, file: (name: string) => string) =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.yaml'))
      .sort()
      .map((name) => {
        context.addWatchFile(join(folder, name));
        const text = readFileSync(join(folder, name), 'utf8');
        return { name: name.replace(/\.yaml$/, ''), file: file(name), text };
      });
  return {
    name: 'sheet-texts',
    resolveId: { filter: { id: /^virtual:sheet-texts$/ }, handler: () => id },
    load: {
      filter: { id: /^\0virtual:sheet-texts$/ },
      handler() {
        const folder = join(import.meta.dirname, 'checklists');
        const sheets = textsIn(this, folder, (name) => name);
        const shared = textsIn(this, join(folder, 'shared'), (name) => `shared/${name}`);
        const text = JSON.stringify(JSON.stringify({ sheets, shared }));
        const code = `export const { sheets, shared } = JSON.parse(${text});`;
        return { code, map: null, moduleType: 'js' };
      },
    },
  };
}

type Practice =
  | { readonly ok: true; readonly scripts: readonly unknown[] }
  | { readonly ok: false; readonly issues: readonly PracticeIssue[] };
type PracticeIssue = { readonly file: string; readonly line: number; readonly sentence: string };

/**
 * `virtual:practice` is every practice case of checklists/practice, checked and as data, so that the YAML reader and
 * the drill runner stay out of the bundle. Its drill is played through its guide; a case that does not hold together
 * fails the build.
 */
function checkedPractice(): Plugin {
  const id = '\0virtual:practice';
  const root = import.meta.dirname;
  return {
    name: 'checked-practice',
    resolveId: { filter: { id: /^virtual:practice$/ }, handler: () => id },
    load: {
      filter: { id: /^\0virtual:practice$/ },
      async handler() {
        const folder = join(root, 'checklists');
        const loader = join(root, 'src', 'practice', 'loadPractice.ts');
        for (const file of filesIn(folder)) this.addWatchFile(file);
        const loaded: Practice = (await import(pathToFileURL(loader).href)).loadPractice(folder);
        if (!loaded.ok) {
          const said = loaded.issues.map(
            ({ file, line, sentence }) => `${file}:${line} ${sentence}`,
          );
          this.error({ message: ['Practice cases have mistakes:', ...said].join('\n'), stack: '' });
        }
        const text = JSON.stringify(JSON.stringify(loaded.scripts));
        return { code: `export const scripts = JSON.parse(${text});`, map: null, moduleType: 'js' };
      },
    },
  };
}

/** Every file in a folder and the folders in it, in order; not the folders themselves. */
const filesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();

const say = ({ file, line, column, field, message }: Issue): string =>
  `${file}:${line}:${column} ${field}: ${message}`;

/** Writes dist/sw.js with the list of the build's files and a version that is the hash of them all. */
function offlineWorker(source: string): Plugin {
  let config: ResolvedConfig;
  return {
    name: 'offline-worker',
    apply: 'build',
    configResolved(resolved) {
      config = resolved;
    },
    closeBundle() {
      const out = join(config.root, config.build.outDir);
      if (!existsSync(out)) return; // the build failed before, and says why
      const files = filesIn(out).filter((file) => !/(^|[\\/])sw\.js$|\.map$/.test(file));
      const hash = createHash('sha256');
      for (const file of files) hash.update(relative(out, file)).update(readFileSync(file));
      const urls = files.map((file) => `/${relative(out, file).split(sep).join('/')}`);
      const text = readFileSync(join(config.root, source), 'utf8')
        .replace('__VERSION__', hash.digest('hex').slice(0, 16))
        .replace("'__FILES__'", () => JSON.stringify(JSON.stringify(urls)));
      writeFileSync(join(out, 'sw.js'), text);
    },
  };
}

/** The development server injects style elements and scripts, which the built page's policy forbids. */
const developmentPolicy = (): Plugin => ({
  name: 'development-policy',
  apply: 'serve',
  transformIndexHtml: (html) =>
    html
      .replace("style-src 'self'", "style-src 'self' 'unsafe-inline'")
      .replace("; require-trusted-types-for 'script'; trusted-types default", ''),
});

/** The letters of English and of figures come with the page, so that no word moves when they arrive. */
const fontsFirst = (): Plugin => ({
  name: 'fonts-first',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: (_, { bundle = {} }) =>
      Object.keys(bundle)
        .filter((name) => /-latin-wght-normal-[^/]*\.woff2$/.test(name))
        .map((name) => ({
          tag: 'link',
          attrs: {
            rel: 'preload',
            as: 'font',
            type: 'font/woff2',
            href: `/${name}`,
            crossorigin: '',
          },
          injectTo: 'head' as const,
        })),
  },
});

/** Says where the built program is, in a sentence. */
const address = (): Plugin => ({
  name: 'address',
  configurePreviewServer(server) {
    server.printUrls = () => {
      const local = server.resolvedUrls?.local[0] ?? 'the address given by --host and --port';
      server.config.logger.info(`Lastlook is running. Open ${local} in a browser on this machine.`);
      server.config.logger.info('Press Ctrl+C to stop it.');
    };
  },
});

/** Folders of tests/ that need no page. Those of tests/screens get one; tests/browser is Playwright's. */
const unitFolders = [
  'engine',
  'published',
  'drills',
  'journal',
  'journals',
  'vault',
  'sheets',
  'session',
  'drill',
].concat([
  'fhir',
  'record',
  'review',
  'scan',
  'simulator',
  'tidy',
  'practice',
  'rehearsal',
  'desk',
  'paper',
  'words',
]);

/**
 * What is needed together comes as one file: each file of its own is asked of the worker, which on a slow tablet takes
 * longer than its reading. What the first screen loads, what decides, and what a case shows.
 */
const fewFiles = [
  { name: 'start', tags: ['$initial' as const], priority: 3 },
  {
    name: 'rules',
    test: /src[\\/]engine[\\/](case[\\/](decide|open|evolve|outcomeOf)|history[\\/]replay)\.ts$/,
    priority: 2,
  },
  {
    name: 'case',
    test: /src[\\/](screens[\\/](CaseView|opening[\\/]OpeningScreen|SignSheet)\.tsx|scan[\\/]listenForScans\.ts)$/,
    priority: 1,
  },
];

export default defineConfig({
  root: 'src',
  publicDir: 'static',
  plugins: [
    checkedSheets(),
    checkedPractice(),
    sheetTexts(),
    solid(),
    offlineWorker('sw.js'),
    developmentPolicy(),
    fontsFirst(),
    address(),
  ],
  build: {
    outDir: '../dist',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0, // the page's policy allows fonts from files only
    modulePreload: { polyfill: false },
    // How long a plugin took tells nothing to who starts the program.
    rolldownOptions: {
      checks: { pluginTimings: false },
      output: { codeSplitting: { groups: fewFiles } },
    },
  },
  server: { host: '127.0.0.1' },
  preview: { host: '127.0.0.1' },
  test: {
    root: '.',
    environment: 'node', // else vite-plugin-solid asks for jsdom, and vitest exits 1 without it
    coverage: { include: ['src/**/*.{ts,tsx}'] },
    testTimeout: 20_000, // a busy machine is no failure of the program; what must be fast measures itself
    hookTimeout: 30_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          environment: 'node',
          include: unitFolders.map((folder) => `tests/${folder}/**/*.test.ts`),
        },
      },
      {
        extends: true,
        test: {
          name: 'ui',
          environment: 'happy-dom',
          include: ['tests/screens/**/*.test.{ts,tsx}'],
          setupFiles: ['tests/support/nothingLeft.ts'],
        },
      },
    ],
  },
});
