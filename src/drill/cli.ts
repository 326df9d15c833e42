/**
 * Runs drills without a page: `npm run drill -- FILE...`. Prints a line a drill and `N passed, N failed`.
 *
 * Exit 1 when a drill failed, 2 when a file could not be read. `--readme` writes the generated parts of
 * checklists/README.md instead.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Fault } from '#engine/assert.ts';
import { loadShared } from '#sheets/loadSheets.ts';
import { parseSheet } from '#sheets/parseSheet.ts';
import { drillsOf, type NamedSheet, type ReadyDrill, type Sheets } from './drillFile.ts';
import { filledIn } from './readme.ts';
import { runDrill } from './runDrill.ts';

const checklists = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'checklists');

const say = (words: string): void => void process.stdout.write(`${words}\n`);
const complain = (words: string): void => void process.stderr.write(`${words}\n`);

/** The sheets that a drill in this folder can name: of checklists/, then of sheets/ beside it or above. */
function sheetsFor(folder: string): Sheets {
  const shared = loadShared(checklists);
  return {
    shared,
    byName: (name) => sheetNamed(name, [checklists, ...sheetFolders(folder)], shared),
  };
}

/** A folder of drills may be sorted into folders; they share the sheets of the one that holds them. */
const sheetFolders = (folder: string): readonly string[] => [
  join(folder, 'sheets'),
  join(folder, '..', 'sheets'),
];

function sheetNamed(
  name: string,
  folders: readonly string[],
  shared: Sheets['shared'],
): NamedSheet {
  if (!/^[\w-]+$/.test(name)) return { ok: false, sentence: `${name} is not the name of a sheet.` };
  const path = folders
    .map((folder) => join(folder, `${name}.yaml`))
    .find((file) => existsSync(file));
  if (path === undefined)
    return {
      ok: false,
      sentence: `There is no sheet ${name} in checklists/ or in sheets/ beside the drill or above.`,
    };
  const parsed = parseSheet(readFileSync(path, 'utf8'), { file: `${name}.yaml`, shared });
  if (parsed.ok) return parsed;
  const [first] = parsed.issues;
  return { ok: false, sentence: `The sheet ${name} has a mistake. ${first?.message ?? ''}` };
}

/** Where the file is: from here, or from where npm was called. */
function pathOf(file: string): string {
  const fromCaller = resolve(process.env.INIT_CWD ?? '.', file);
  return existsSync(file) || !existsSync(fromCaller) ? resolve(file) : fromCaller;
}

function textOf(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined; // missing, a folder, or not ours to read: all the same to whoever named it
  }
}

/** The sentence of what went wrong, or undefined when the drill passed. */
function wrongIn(file: string, { drill, sheet, lineOf }: ReadyDrill): string | undefined {
  try {
    const [failure] = runDrill(drill, sheet).failures;
    return failure && `${file}:${lineOf(failure.path)}: ${failure.sentence}`;
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    return `${file}:${lineOf([])}: a bug in the engine: ${error.message}`;
  }
}

type Totals = { passed: number; failed: number; unread: number };

function runFile(file: string, totals: Totals): void {
  const path = pathOf(file);
  const text = textOf(path);
  if (text === undefined) {
    totals.unread += 1;
    complain(`${file}:1: The file cannot be read.`);
    return;
  }
  const read = drillsOf(text, sheetsFor(dirname(path)));
  if (!read.ok) {
    totals.unread += 1;
    for (const { line, sentence } of read.issues) complain(`${file}:${line}: ${sentence}`);
    return;
  }
  for (const ready of read.drills) {
    const wrong = wrongIn(file, ready);
    const { title } = ready.drill;
    totals[wrong === undefined ? 'passed' : 'failed'] += 1;
    say(wrong === undefined ? `passed: ${title}` : `FAILED: ${title} (${wrong})`);
  }
}

function main(words: readonly string[]): number {
  if (words.includes('--readme')) {
    const readme = join(checklists, 'README.md');
    writeFileSync(readme, filledIn(readFileSync(readme, 'utf8')));
    return 0;
  }
  if (words.length === 0) {
    complain('Name one or more drill files: npm run drill -- FILE...');
    return 2;
  }
  const totals: Totals = { passed: 0, failed: 0, unread: 0 };
  for (const file of words) runFile(file, totals);
  say(`${totals.passed} passed, ${totals.failed} failed`);
  if (totals.unread > 0) return 2;
  return totals.failed > 0 ? 1 : 0;
}

process.exitCode = main(process.argv.slice(2));
