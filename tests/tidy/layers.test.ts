import { expect, test } from 'vitest';
import {
  type Finding,
  fileMeant,
  found,
  importsOf,
  roomOf,
  type Source,
  sourcesOf,
} from './source.ts';

/** What each folder of src may reach: other folders by name, packages by name. */
const reach: Readonly<Record<string, readonly string[]>> = {
  engine: [],
  sheets: ['engine', 'yaml'],
  journal: ['engine', 'idb-keyval', '@noble/hashes'],
  session: [
    'words',
    'engine',
    'sheets',
    'rehearsal',
    'journal',
    'vault',
    '@xstate/store',
    'virtual:sheets',
    'virtual:sheet-texts',
  ],
  vault: ['engine'],
  drill: ['engine', 'sheets', 'yaml'],
  rehearsal: ['engine', 'sheets'],
  desk: ['engine', 'sheets', 'rehearsal', 'paper'],
  paper: ['engine'],
  scan: ['engine', 'jsbarcode', '@zxing'],
  practice: ['engine', 'sheets', 'drill'],
  screens: [
    'words',
    'session',
    'practice',
    'parts',
    'scan',
    'engine',
    'paper',
    'styles',
    'solid-js',
  ],
  parts: ['engine', 'styles', 'solid-js'],
  record: ['engine', 'scan', 'parts', 'styles', 'solid-js', 'fhir'],
  convert: ['words', 'engine', 'journal', 'session', 'record'],
  review: ['engine', 'record', 'parts', 'styles', 'solid-js'],
  styles: ['@fontsource-variable'],
  'virtualSheets.d.ts': ['session', 'practice'],
};

/** Files that run under Node, at the build or on the command line, and may use its modules. */
const nodeFiles = [
  'src/sheets/loadSheets.ts',
  'src/sheets/schemaCli.ts',
  'src/drill/cli.ts',
  'src/session/verifyCli.ts',
  'src/convert/cli.ts',
  'src/desk/cli.ts',
  'src/desk/files.ts',
  'src/desk/print.ts',
  'src/practice/loadPractice.ts',
];

/** The areas of the engine in order: each may read only those before it. */
const areas = [
  'moves',
  'counts',
  'discrepancies',
  'specimens',
  'checkpoints',
  'closures',
  'notes',
  'case',
  'history',
];

const isProgram = /^src\/.*\.tsx?$/;

function mayReach(from: string, to: string): boolean {
  const room = roomOf(from);
  if (room === 'main.tsx') return true;
  if (to === '#words/say.ts' || to === '#words/dates.ts') return true; // every folder speaks
  if (to.startsWith('node:')) return nodeFiles.includes(from);
  const file = fileMeant(from, to);
  if (file !== undefined && roomOf(file) === room) return true;
  const allowed = reach[room] ?? [];
  if (file !== undefined) return allowed.includes(roomOf(file));
  return allowed.some((name) => to === name || to.startsWith(`${name}/`));
}

/** The table of rooms, and that a crossing is written with `#` and an extension. */
function wrongCrossings(source: Source): readonly Finding[] {
  return importsOf(source).flatMap(({ to, offset }) => {
    const file = fileMeant(source.path, to);
    const findings: Finding[] = [];
    if (!mayReach(source.path, to))
      findings.push(found(source, offset, `may not import ${to}: see the table in tests/tidy.`));
    if (file === 'src/main.tsx') findings.push(found(source, offset, 'nothing imports main.tsx.'));
    if (file !== undefined && (roomOf(file) === roomOf(source.path)) !== to.startsWith('.'))
      findings.push(found(source, offset, `${to}: relative inside a folder, # across folders.`));
    if (file !== undefined && !/\.(tsx?|css(\?raw)?|svg|json)$/.test(to))
      findings.push(found(source, offset, `${to}: write the extension.`));
    return findings;
  });
}

/** The finer rows: order of the engine's areas, types only from them, no screen reads another. */
function wrongFinerCrossings(source: Source): readonly Finding[] {
  const room = roomOf(source.path);
  return importsOf(source).flatMap(({ to, onlyTypes, offset }) => {
    const file = fileMeant(source.path, to);
    if (file === undefined) return [];
    const [here, there] = [areaOf(source.path), areaOf(file)];
    if (room === 'engine' && there !== undefined && rank(there) > rank(here))
      return [found(source, offset, `${here ?? 'the top of engine'} may not read ${there}.`)];
    if (['journal', 'parts', 'sheets'].includes(room) && roomOf(file) === 'engine')
      if (there !== undefined && there !== 'history' && !onlyTypes)
        return [found(source, offset, `may take only types from engine/${there}.`)];
    if (room === 'screens' && /^src\/engine\/.*evolve/i.test(file))
      return [found(source, offset, 'a screen applies no event: read the session instead.')];
    if (room === 'screens' && roomOf(file) === 'screens' && here && there && here !== there)
      return [found(source, offset, `screen ${here} may not read screen ${there}: use parts.`)];
    return [];
  });
}

/** The folder inside a room, or undefined for a file that lies directly in the room. */
function areaOf(path: string): string | undefined {
  const parts = path.split('/');
  return parts.length > 3 ? parts[2] : undefined;
}

const rank = (area: string | undefined): number => (area === undefined ? -1 : areas.indexOf(area));

const unknownAreas = (paths: readonly string[]): readonly Finding[] =>
  [...new Set(paths.filter((path) => roomOf(path) === 'engine').map(areaOf))]
    .filter((area) => area !== undefined && !areas.includes(area))
    .map((area) => `src/engine/${area} is not in the order of areas: give it its place.`);

/** Every ring of files that read each other, each told once. */
function cycles(sources: readonly Source[]): readonly Finding[] {
  const paths = new Set(sources.map((source) => source.path));
  const edges = new Map(
    sources.map((source) => {
      const meant = importsOf(source).map(({ to }) => fileMeant(source.path, to));
      return [source.path, meant.filter((path) => path !== undefined && paths.has(path))];
    }),
  );
  const done = new Set<string>();
  const rings: Finding[] = [];
  const visit = (path: string, way: readonly string[]): void => {
    const start = way.indexOf(path);
    if (start >= 0) {
      rings.push(`${[...way.slice(start), path].join(' -> ')} is a ring: move what both need.`);
      return;
    }
    if (done.has(path)) return;
    for (const next of edges.get(path) ?? []) if (next !== undefined) visit(next, [...way, path]);
    done.add(path);
  };
  for (const path of paths) visit(path, []);
  return rings;
}

const wrongTestImports = (source: Source): readonly Finding[] =>
  importsOf(source)
    .filter(({ to }) => /(^|\/)tests\//.test(fileMeant(source.path, to) ?? to))
    .map(({ offset }) => found(source, offset, 'src never imports tests.'));

const sources = sourcesOf(isProgram);
const one = (path: string, text: string): Source => ({ path, text });

test('folders of src import only what the table allows', () => {
  const rows = [wrongCrossings, wrongFinerCrossings, wrongTestImports];
  expect(rows.flatMap((row) => sources.flatMap(row))).toEqual([]);
});

test('every area of the engine has its place in the order', () => {
  expect(unknownAreas(sources.map(({ path }) => path))).toEqual([]);
  expect(unknownAreas(['src/engine/magic/x.ts'])).toHaveLength(1);
});

test('no files of src read each other in a ring', () => {
  expect(cycles(sources)).toEqual([]);
});

test.each([
  ['src/engine/ledger.ts', "import { get } from 'idb-keyval';"],
  ['src/engine/ledger.ts', "import { x } from '#session/x.ts';"],
  ['src/engine/ledger.ts', "import { readFileSync } from 'node:fs';"],
  ['src/engine/moves/x.ts', "import { x } from '../../sheets/x.ts';"],
  ['src/journal/x.ts', "import { createSignal } from 'solid-js';"],
  ['src/parts/Wire.tsx', "import { createStore } from '@xstate/store';"],
  ['src/screens/a/A.tsx', "import { x } from '#journal/x.ts';"],
  ['src/screens/a/A.tsx', "const x = import('#journal/x.ts');"],
  ['src/parts/X.tsx', "type X = import('#session/x.ts').X;"],
  ['src/session/x.ts', "export { x } from '#screens/x.ts';"],
  ['src/session/x.ts', "import { x } from '#engine/x';"],
  ['src/session/x.ts', "import { x } from '../engine/x.ts';"],
  ['src/session/x.ts', "import { x } from '#session/y.ts';"],
])('a wrong crossing is found: %s %s', (path, text) => {
  expect(wrongCrossings(one(path, text)).length).toBeGreaterThan(0);
});

test.each([
  ['src/engine/moves/x.ts', "import { x } from '../counts/x.ts';"],
  ['src/engine/counts/x.ts', "import type { X } from '../case/x.ts';"],
  ['src/engine/ledger.ts', "import { x } from './moves/x.ts';"],
  ['src/parts/Wire.tsx', "import { decide } from '#engine/case/decide.ts';"],
  ['src/screens/a/A.tsx', "import { evolve } from '#engine/case/evolve.ts';"],
  ['src/screens/a/A.tsx', "import { B } from '../b/B.tsx';"],
])('a wrong finer crossing is found: %s %s', (path, text) => {
  expect(wrongFinerCrossings(one(path, text))).toHaveLength(1);
});

test('an allowed crossing is let through', () => {
  const good = [
    one('src/engine/counts/x.ts', "import { x } from '../moves/x.ts';"),
    one('src/screens/a/A.tsx', "import { For } from 'solid-js/web'; import './a.css';"),
    one('src/parts/W.tsx', "import type { Case } from '#engine/case/x.ts';"),
    one('src/journal/x.ts', "import { replay } from '#engine/history/replay.ts';"),
    one('src/sheets/loadSheets.ts', "import { join } from 'node:path';"),
  ];
  expect(good.flatMap(wrongCrossings)).toEqual([]);
  expect(good.flatMap(wrongFinerCrossings)).toEqual([]);
});

test('a ring and an import of tests are found', () => {
  const ring = [
    one('src/parts/a.ts', "import { b } from './b.ts';"),
    one('src/parts/b.ts', "import { c } from './c.ts';"),
    one('src/parts/c.ts', "import { a } from './a.ts';"),
  ];
  expect(cycles(ring)).toHaveLength(1);
  expect(wrongTestImports(one('src/parts/a.ts', "import '../../tests/x.ts';"))).toHaveLength(1);
});
