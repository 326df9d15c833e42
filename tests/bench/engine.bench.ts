/**
 * How fast the engine is, beside the usual ways to keep the same numbers: `npm run bench:engine`.
 *
 * Each contestant runs in a process of its own, all end with the same 900 numbers, the best of up to 15 runs
 * counts. Only ratios of one table mean something: the machine is not ours alone. It is no test: nothing fails.
 */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { others } from './others.ts';
import { ours, tapTimes } from './ours.ts';
import { movesOf } from './workload.ts';

const program = join(import.meta.dirname, 'contestant.ts');
const slowOnes = ['Automerge'];

/** Events in a second, in millions. */
function speedOf(name: string, count: number): number {
  const said = execFileSync(process.execPath, ['--expose-gc', program, name, String(count)], {
    encoding: 'utf8',
  });
  const { bestMs }: { bestMs: number } = JSON.parse(said);
  return count / bestMs / 1000;
}

const inFigures = (speed: number): string => speed.toPrecision(3);

function table(count: number): void {
  const names = [...Object.keys(others), ...Object.keys(ours)];
  const speeds = new Map<string, number>();
  for (const name of names) {
    // The slowest would take minutes at 100,000 and is no faster there.
    const its = slowOnes.includes(name) ? Math.min(count, 2000) : count;
    speeds.set(name, speedOf(name, its));
    process.stderr.write('.');
  }
  const toolkit = speeds.get('Redux Toolkit') ?? Number.NaN;
  const mutable = speeds.get('mutable objects, string ids, checked') ?? Number.NaN;
  console.log(`\n${count} events, 150 lines over 6 places\n`);
  console.log(
    '| contestant | million events a second | times Redux Toolkit | of mutable objects |',
  );
  console.log('| --- | --- | --- | --- |');
  for (const [name, speed] of [...speeds].sort((one, other) => other[1] - one[1])) {
    const times = inFigures(speed / toolkit);
    console.log(`| ${name} | ${inFigures(speed)} | ${times} | ${inFigures(speed / mutable)} |`);
  }
}

const counts = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [10_000, 100_000];
for (const count of counts) table(count);

const earlier = 2000;
const times = [...tapTimes(movesOf(earlier + 3000), earlier)].sort((one, other) => one - other);
const at = (part: number): string => (times[Math.floor(times.length * part)] ?? 0).toFixed(1);
console.log(
  `\nOne tap with 150 lines and ${earlier} entries before it: decide, evolve and the holds of all 5 gates take ` +
    `${at(0.5)} µs at the median, ${at(0.95)} µs at the 95th percentile.`,
);
