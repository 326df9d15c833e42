/**
 * Runs the checks of the project, all of them or those named, one after another, and goes on after a
 * failure so that the last line has the real totals: `N passed, N failed`. Exit 1 if anything failed.
 *
 * A type check, a lint and a build count as one each; unit, drill and browser tests as many as there are.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { isFirefoxHere, isWebKitHere } from './browser/others/found.ts';
import {
  ended,
  type Totals,
  totalsOfDrills,
  totalsOfPlaywright,
  totalsOfVitest,
} from './totals.ts';

const unitReport = 'reports/units.json';
const browserReport = 'reports/browser.json';
const othersReport = 'reports/others.json';

/** Runs one program to its end, shows what it says, and answers its exit status and its words. */
function run(name: string, words: readonly string[], env: Record<string, string> = {}) {
  const path = [join(process.cwd(), 'node_modules', '.bin'), process.env.PATH ?? ''].join(
    delimiter,
  );
  return new Promise<{ readonly status: number; readonly said: string }>((resolve) => {
    const child = spawn(name, words, {
      stdio: ['ignore', 'pipe', 'inherit'],
      env: { ...process.env, PATH: path, ...env },
    });
    let said = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said += text;
      process.stdout.write(text);
    });
    child.on('error', () => resolve({ status: 127, said }));
    child.on('close', (status) => resolve({ status: status ?? 1, said }));
  });
}

async function one(name: string, ...words: readonly string[]): Promise<Totals> {
  const { status } = await run(name, words);
  return status === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };
}

/** A report left by an earlier run must not be taken for this one's. */
function emptyReport(file: string): void {
  mkdirSync('reports', { recursive: true });
  rmSync(file, { force: true });
}

const readReport = (file: string): unknown =>
  existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined;

const units = () => vitest(unitReport);

async function vitest(report: string, ...more: readonly string[]): Promise<Totals> {
  emptyReport(report);
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const { status } = await run('vitest', ['run', ...reporters, ...more]);
  return ended(status, totalsOfVitest(readReport(report)));
}

async function drills(): Promise<Totals> {
  const folder = 'tests/drills';
  const files = existsSync(folder)
    ? readdirSync(folder, { recursive: true, encoding: 'utf8' })
    : [];
  const drillFiles = files
    .filter((file) => file.endsWith('.yaml') && !/^sheets\b/.test(file)) // the sheets that drills name
    .map((file) => join(folder, file));
  if (drillFiles.length === 0) return { passed: 0, failed: 0 };
  const { status, said } = await run('node', ['src/drill/cli.ts', ...drillFiles.sort()]);
  return ended(status, totalsOfDrills(said));
}

async function browser(): Promise<Totals> {
  const chromium = await run('node', ['tests/chromium.ts']);
  if (chromium.status !== 0 || !existsSync('dist/index.html')) return { passed: 0, failed: 1 };
  return playwright('tests/browser/playwright.config.ts', browserReport);
}

/** The worked case in other browsers, as far as they are here. What was not run is no pass, and is said. */
async function others(): Promise<Totals> {
  await run('node', ['tests/otherBrowsers.ts']);
  const isHere = { firefox: isFirefoxHere(), webkit: isWebKitHere() };
  const here = Object.entries(isHere).flatMap(([name, is]) => (is ? [name] : []));
  for (const [name, is] of Object.entries(isHere))
    if (!is) console.log(`Not run: the whole case in ${name}.`);
  if (here.length === 0) return { passed: 0, failed: 0 };
  if (!existsSync('dist/index.html')) return { passed: 0, failed: 1 };
  return vitest(othersReport, '--config', 'tests/browser/others.config.ts', ...here);
}

async function playwright(config: string, report: string): Promise<Totals> {
  emptyReport(report);
  const { status } = await run('playwright', ['test', '-c', config, '--reporter=list,json'], {
    PLAYWRIGHT_JSON_OUTPUT_NAME: join(process.cwd(), report),
    PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD: '1',
  });
  return ended(status, totalsOfPlaywright(readReport(report)));
}

/** In this order. A build that fails leaves no page, so that the browser tests then fail too. */
const stages: ReadonlyMap<string, () => Promise<Totals>> = new Map([
  ['types', () => one('tsc')],
  ['lint', () => one('biome', 'check', '--error-on-warnings', '.')],
  ['units', units],
  ['drills', drills],
  ['build', build],
  ['browser', browser],
  ['others', others],
]);

function build(): Promise<Totals> {
  rmSync('dist', { recursive: true, force: true });
  return one('vite', 'build', '--logLevel', 'warn');
}

const named = process.argv.slice(2);
const unknown = named.filter((name) => !stages.has(name));
if (unknown.length > 0) {
  console.error(
    `There is no check called ${unknown.join(', ')}: ${[...stages.keys()].join(', ')}.`,
  );
  process.exit(2);
}

const results: (Totals & { readonly name: string; readonly seconds: number })[] = [];
for (const [name, stage] of stages) {
  if (named.length > 0 && !named.includes(name)) continue;
  console.log(`\n=== ${name}`);
  const begun = performance.now();
  results.push({ name, ...(await stage()), seconds: (performance.now() - begun) / 1000 });
}

console.log('\n=== summary');
for (const { name, passed, failed, seconds } of results)
  console.log(`${name}: passed ${passed}, failed ${failed} (${seconds.toFixed(1)} s)`);
const passed = results.reduce((sum, result) => sum + result.passed, 0);
const failed = results.reduce((sum, result) => sum + result.failed, 0);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
