/**
 * `npm run soak:faults -- N FROM`: plays N seeds (10,000) from FROM (1) on, then every storage error at
 * every call. Prints what did not hold with the seed that shows it. Exit 1 if anything did not hold.
 */
import { simulateSeed } from './simulate.ts';
import { sweep } from './sweep.ts';
import { installTime } from './time.ts';

const [count = 10_000, from = 1] = process.argv.slice(2).map(Number);
if (!Number.isInteger(count) || !Number.isInteger(from) || count < 0) {
  console.error('Say how many seeds, and from which on: npm run soak:faults -- 10000 1');
  process.exit(2);
}

installTime();
console.warn = () => undefined; // the program says there which home it left out
const begun = performance.now();
const sum = { acknowledged: 0, kills: 0, wipes: 0, failed: 0 };
for (let seed = from; seed < from + count; seed += 1) {
  const { wrong, acknowledged, kills, wipes } = await simulateSeed(seed);
  sum.acknowledged += acknowledged;
  sum.kills += kills;
  sum.wipes += wipes;
  if (wrong.length > 0) sum.failed += 1;
  for (const what of wrong.slice(0, 3)) console.log(`seed ${seed}: ${what}`);
}
const { wrong, played } = await sweep(1);
for (const what of wrong.slice(0, 50)) console.log(what);
const seconds = Math.round((performance.now() - begun) / 1000);
console.log(
  `${count} seeds from ${from}, ${played} single errors, ${seconds} s: ${sum.acknowledged} entries ` +
    `acknowledged, ${sum.kills} windows killed, the database thrown away ${sum.wipes} times.`,
);
console.log(`${sum.failed} seeds and ${wrong.length} things of single errors did not hold.`);
process.exitCode = sum.failed + wrong.length > 0 ? 1 : 0;
