import { fork } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Instrumenter } from '@stryker-mutator/instrumenter';
import { type Answer, changed, engine, listed, type Mutant, type Tried } from './places.ts';

/**
 * `npm run mutants:quick [PART OF A FILE'S PATH...]`: the same changes that Stryker makes, tried in few processes
 * instead of a run of vitest each. Prints what survives, and a table by file.
 */
const wanted = process.argv.slice(2);
const said = { isDebugEnabled: () => false, debug: () => {}, info: () => {}, warn: console.warn };

const mutants = await madeMutants();
const tried = new Map<string, Tried>();
for (let next = 0; next < mutants.length; ) {
  const answer = await asked({ FROM: String(next) });
  for (const one of answer.tried) tried.set(one.id, one);
  next = answer.next;
}
for (const one of tried.values()) {
  if (!one.isAtLoad || one.status === 'killed') continue;
  for (const again of (await asked({ MUTANT: one.id })).tried) tried.set(again.id, again);
}
report();

/** Writes the engine with all its mutants, each behind a switch, and the list of them. */
async function madeMutants(): Promise<readonly Mutant[]> {
  const names = readdirSync(engine, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .sort();
  const files = names.map((name) => ({
    name,
    mutate: wanted.length === 0 || wanted.some((part) => name.includes(part)),
    content: readFileSync(join(engine, name), 'utf8'),
  }));
  const sources = new Map(files.map(({ name, content }) => [name, content]));
  // The instrumenter asks of its logger no more than this.
  const instrumenter = new Instrumenter(said as never);
  const made = await instrumenter.instrument(files, {
    plugins: null,
    excludedMutations: [],
    ignorers: [],
  });
  rmSync(changed, { recursive: true, force: true });
  for (const { name, content } of made.files) {
    mkdirSync(dirname(join(changed, name)), { recursive: true });
    writeFileSync(join(changed, name), content);
  }
  const list = made.mutants.map((one) => ({
    id: one.id,
    file: one.fileName,
    line: one.location.start.line,
    original: inShort(within(sources.get(one.fileName) ?? '', one.location)),
    replacement: inShort(one.replacement),
  }));
  writeFileSync(listed, JSON.stringify(list));
  return list;
}

function inShort(code: string): string {
  return code.replaceAll(/\s+/g, ' ').slice(0, 80);
}

type Spot = { readonly line: number; readonly column: number };

/** The piece of a source that a mutant stands for. Lines and columns count from 0. */
function within(source: string, { start, end }: { readonly start: Spot; readonly end: Spot }) {
  const lines = source.split('\n');
  const offset = ({ line, column }: Spot) => lines.slice(0, line).join('\n').length + column;
  return source.slice(offset(start) + Math.sign(start.line), offset(end) + Math.sign(end.line));
}

/** What a process of its own answers. One that ends without an answer, or not in a minute, was killed by its mutant. */
function asked(told: Readonly<Record<string, string>>): Promise<Answer> {
  const worker = fork(join(import.meta.dirname, 'worker.ts'), { env: { ...process.env, ...told } });
  return new Promise((resolve, reject) => {
    const one = told.MUTANT;
    const timer = setTimeout(() => one !== undefined && worker.kill(), 60_000);
    worker.once('message', (answer: Answer) => {
      clearTimeout(timer);
      resolve(answer);
    });
    worker.once('exit', () => {
      clearTimeout(timer);
      if (one === undefined) reject(new Error('The tests could not be run: see above.'));
      else resolve({ tried: [{ id: one, status: 'killed', isAtLoad: true }], next: 0 });
    });
  });
}

function report(): void {
  const isKilled = ({ id }: Mutant): boolean => tried.get(id)?.status === 'killed';
  for (const one of mutants) {
    if (isKilled(one)) continue;
    const { file, line, original, replacement, id } = one;
    console.log(`${file}:${line + 1} ${tried.get(id)?.status}: ${original} → ${replacement}`);
  }
  console.log('\n| file | mutants | killed | % |\n| --- | ---: | ---: | ---: |');
  for (const file of new Set(mutants.map((one) => one.file))) {
    const ones = mutants.filter((one) => one.file === file);
    console.log(row(file, ones.length, ones.filter(isKilled).length));
  }
  console.log(row('all', mutants.length, mutants.filter(isKilled).length));
}

function row(name: string, made: number, killed: number): string {
  return `| ${name} | ${made} | ${killed} | ${((100 * killed) / made).toFixed(1)} |`;
}
