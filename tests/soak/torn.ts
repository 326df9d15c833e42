/**
 * `npm run soak:torn`: the last record of each journal is torn in three shapes; then power is cut in the worst
 * way, so that only what was synced is left. After each the tablet starts twice, with an entry between. Beside
 * it stands IndexedDB alone. Exit 1 if the program lost an acknowledged entry or a case did not open.
 */
import { cpSync } from 'node:fs';
import { chromiumPath } from '../browser/launch.ts';
import { switchOnAgain, type Tablet } from '../browser/tablet.ts';
import { cutLast, cutPower, hasStrace, type Journal, shapes, tracedChromium } from './cut.ts';
import { readPlain, writePlain } from './plain.ts';
import {
  aim,
  backToFrame,
  beginCase,
  newProfile,
  readRecord,
  serve,
  watchScreen,
} from './soakCase.ts';

const wrong: string[] = [];

/** Taps for a while, and answers how many rows a person has seen acknowledged. */
async function tapFor(tablet: Tablet, ms: number): Promise<number> {
  const { rows } = await readRecord(tablet.page);
  await backToFrame(tablet.page);
  const seen = await watchScreen(tablet.page);
  const end = Date.now() + ms;
  const tapAway = await aim(tablet.page);
  await tapAway(() => Date.now() > end);
  return rows + seen.changes;
}

/** Two starts with an entry between; what was acknowledged must be there after each. */
async function startTwice(name: string, profile: string, least: number): Promise<void> {
  let expected = least;
  for (const start of ['first', 'second']) {
    try {
      const tablet = await switchOnAgain(profile, origin);
      const { rows } = await readRecord(tablet.page);
      if (rows < expected)
        wrong.push(`${name}: ${expected - rows} entries lost at the ${start} start`);
      console.log(`${name}, ${start} start: ${rows} rows, at least ${expected} acknowledged`);
      await backToFrame(tablet.page);
      expected = await tapFor(tablet, 150);
      await tablet.kill();
    } catch (error) {
      wrong.push(
        `${name}: the case did not open at the ${start} start: ${String(error).split('\n')[0]}`,
      );
    }
  }
}

async function tornMatrix(): Promise<void> {
  const base = newProfile();
  const tablet = await beginCase(base.profile, origin);
  const acknowledged = await tapFor(tablet, 500);
  await tablet.kill();
  const journals: readonly Journal[] = ['database', 'file'];
  for (const [journal, shape] of journals.flatMap((one) =>
    shapes.map((shape) => [one, shape] as const),
  )) {
    const copy = newProfile();
    cpSync(base.profile, copy.profile, { recursive: true, verbatimSymlinks: true });
    const bytes = cutLast(copy.profile, journal, shape);
    await startTwice(`torn ${journal}, ${shape} (${bytes} bytes gone)`, copy.profile, acknowledged);
    copy.remove();
  }
  base.remove();
}

async function powerCuts(trials: number): Promise<void> {
  for (let trial = 1; trial <= trials; trial += 1) {
    const { profile, remove } = newProfile();
    const tools = newProfile();
    const { program, trace } = tracedChromium(tools.profile, chromiumPath);
    const tablet = await beginCase(profile, origin, program);
    const acknowledged = await tapFor(tablet, 500 + Math.random() * 1000);
    await tablet.kill();
    const bytes = cutPower(profile, trace);
    await startTwice(`power cut ${trial} (${bytes} bytes gone)`, profile, acknowledged);
    remove();
    tools.remove();
  }
}

/** What the same does to IndexedDB alone. Nothing of it is ours, so nothing of it fails the run. */
async function plainBeside(): Promise<void> {
  for (const durability of ['strict', 'relaxed'] as const) {
    const torn = newProfile();
    const rows = await writePlain(torn.profile, origin, { rows: 50, durability });
    cutLast(torn.profile, 'database', 'half of it');
    const [first, second] = [
      await readPlain(torn.profile, origin),
      await readPlain(torn.profile, origin),
    ];
    console.log(
      `IndexedDB alone, ${durability}, torn: ${rows} acknowledged, first start ${first.rows}, ` +
        `second start ${second.rows} (dataLoss ${second.dataLoss})`,
    );
    torn.remove();
    if (!hasStrace()) continue;
    const [cut, tools] = [newProfile(), newProfile()];
    const { program, trace } = tracedChromium(tools.profile, chromiumPath);
    const written = await writePlain(cut.profile, origin, { rows: 50, durability, program });
    cutPower(cut.profile, trace);
    const read = await readPlain(cut.profile, origin);
    console.log(
      `IndexedDB alone, ${durability}, power cut: ${written} acknowledged, ${read.rows} left (dataLoss ${read.dataLoss})`,
    );
    cut.remove();
    tools.remove();
  }
}

const parts = process.argv.slice(2);
const does = (part: string): boolean => parts.length === 0 || parts.includes(part);
const { origin, stop } = await serve(4377);
if (does('torn')) await tornMatrix();
if (does('power'))
  if (hasStrace()) await powerCuts(3);
  else console.log('Power cuts are left out: strace is not on this machine.');
if (does('plain')) await plainBeside();
await stop();
for (const what of wrong) console.log(what);
console.log(`${wrong.length} things wrong.`);
process.exitCode = wrong.length > 0 ? 1 : 0;
