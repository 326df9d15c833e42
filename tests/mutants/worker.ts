import { readdirSync, readFileSync } from 'node:fs';
import { registerHooks } from 'node:module';
import { join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Answer, changed, engine, listed, type Mutant, root, type Tried } from './places.ts';

/** A process that loads the changed engine and its tests, and tries mutants one after another. */

type Coverage = Record<string, number | undefined>;
type Switch = {
  activeMutant?: string | undefined;
  currentTestId?: string | undefined;
  hitCount?: number | undefined;
  hitLimit?: number;
  mutantCoverage: { static: Coverage; perTest: Record<string, Coverage | undefined> };
};

declare global {
  /** Read by the code that Stryker's instrumenter puts in. */
  var __stryker__: Switch;
}

globalThis.__stryker__ = { mutantCoverage: { static: {}, perTest: {} } };
const harness = pathToFileURL(join(import.meta.dirname, 'harness.ts')).href;
const ofEngine = pathToFileURL(engine).href;

registerHooks({
  resolve: (name, context, next) =>
    name === 'vitest' && context.parentURL !== harness
      ? { url: harness, shortCircuit: true }
      : next(name, context),
  load: (url, context, next) => {
    if (!url.startsWith(ofEngine)) return next(url, context);
    const source = readFileSync(join(changed, relative(engine, fileURLToPath(url))), 'utf8');
    return { format: 'module-typescript', source, shortCircuit: true };
  },
});

const only = process.env.MUTANT;
if (only !== undefined) globalThis.__stryker__.activeMutant = only;
const { kept } = await loaded();
if (only === undefined) await answered(await tryFrom(Number(process.env.FROM ?? 0)));
else await answered({ tried: [{ id: only, status: await fate(), isAtLoad: true }], next: 0 });

/** Sends the answer and ends: a long one is not sent at once, and a mutant may have left a timer. */
function answered(answer: Answer): Promise<never> {
  return new Promise(() => process.send?.(answer, () => process.exit(0)));
}

/** The engine's own tests and the published doses: those of tests/mutants.config.ts. */
async function loaded() {
  const folder = join(root, 'tests', 'engine');
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.test.ts'))
    .map((file) => join(folder, file));
  try {
    for (const file of [...files, join(root, 'tests', 'published', 'doses.test.ts')].sort())
      await import(pathToFileURL(file).href);
  } catch (error) {
    if (only === undefined) throw error;
    return await answered({ tried: [{ id: only, status: 'killed', isAtLoad: true }], next: 0 });
  }
  return await import('./harness.ts');
}

async function passes(n: number): Promise<boolean> {
  try {
    await kept[n]?.run();
    return true;
  } catch {
    return false;
  }
}

async function fate(): Promise<Tried['status']> {
  for (const n of kept.keys()) if (!(await passes(n))) return 'killed';
  return 'survived';
}

/** Which tests reach which mutant, and how often all of them do. */
async function reach() {
  const tests = new Map<string, number[]>();
  const hits = new Map<string, number>();
  const { mutantCoverage } = globalThis.__stryker__;
  for (const [n, { name }] of kept.entries()) {
    globalThis.__stryker__.currentTestId = String(n);
    if (!(await passes(n))) throw new Error(`Without any change this fails: ${name}`);
    for (const [id, times = 0] of Object.entries(mutantCoverage.perTest[String(n)] ?? {})) {
      tests.set(id, [...(tests.get(id) ?? []), n]);
      hits.set(id, (hits.get(id) ?? 0) + times);
    }
  }
  globalThis.__stryker__.currentTestId = undefined;
  const atLoad = new Set(Object.keys(mutantCoverage.static));
  globalThis.__stryker__.mutantCoverage = { static: {}, perTest: {} };
  return { tests, hits, atLoad };
}

/** The test that fails under a mutant; a loop that no longer ends is stopped and fails too. */
async function killerOf(id: string, tests: readonly number[], hits: number) {
  for (const n of tests) {
    Object.assign(globalThis.__stryker__, { activeMutant: id, hitCount: 0, hitLimit: hits });
    const isPassed = await passes(n);
    Object.assign(globalThis.__stryker__, { activeMutant: undefined, hitCount: undefined });
    if (!isPassed) return n;
  }
  return undefined;
}

/**
 * Tries mutants from this one on. A mutant can spoil what all cases share (the empty ledger, the empty set of ids):
 * when its killer fails afterwards without it, the next one is tried in a new process.
 */
async function tryFrom(from: number): Promise<Answer> {
  const mutants: readonly Mutant[] = JSON.parse(readFileSync(listed, 'utf8'));
  const { tests, hits, atLoad } = await reach();
  const tried: Tried[] = [];
  for (const [n, { id }] of mutants.entries()) {
    if (n < from) continue;
    const reaching = tests.get(id) ?? [];
    const killer = await killerOf(id, reaching, Math.max(1000, (hits.get(id) ?? 0) * 100));
    const survived = reaching.length > 0 ? 'survived' : 'not reached';
    const status = killer === undefined ? survived : 'killed';
    tried.push({ id, status, isAtLoad: atLoad.has(id) });
    if (killer !== undefined && !(await passes(killer))) return { tried, next: n + 1 };
  }
  return { tried, next: mutants.length };
}
