/**
 * What one tap on the frame costs, beside a page of plain DOM written by hand and a React page with the same rows and
 * the same durable entries, in one run: `npm run bench:ui -- [low|mid] [LINES|start] [ROUNDS]`. And how long the
 * installed program takes to start, or that alone. It is no test: nothing fails.
 *
 * Real touches over CDP; the frame by requestAnimationFrame and a message after it, the work by the browser's trace;
 * the processor slowed down until the page's benchmark index is that of a low-end or a mid-tier tablet.
 */
import { loadavg } from 'node:os';
import { type Browser, chromium, type Page } from '@playwright/test';
import { launchOptions } from '../browser/launch.ts';
import { benchmarkIndex } from './ui/benchmarkIndex.ts';
import { meter } from './ui/meter.ts';
import {
  type Contestant,
  contestants,
  type Name,
  openAll,
  openFrame,
  serveAll,
} from './ui/pages.ts';
import { type Round, roundOf } from './ui/tapping.ts';

/** The benchmark index of a tablet, and how long to wait between taps. Units: milliseconds. */
const tablets = { low: { index: 264, waitMs: 170 }, mid: { index: 1000, waitMs: 90 } } as const;
type Tier = keyof typeof tablets;
const tiers: readonly Tier[] = ['mid', 'low'];

/** Rounds and taps in each: 160 for each number of the table, after a short round that only warms up. */
const [onlyTier, onlyLines, fewerRounds = '4'] = process.argv.slice(2);
const rounds = Number(fewerRounds);
const taps = 40;
const tapsToWarmUp = 20;

const quantile = (times: readonly number[], part: number): number =>
  [...times].sort((one, other) => one - other)[Math.floor((times.length - 1) * part)] ?? 0;
const at = (times: readonly number[], ...parts: readonly number[]): string =>
  parts.map((part) => quantile(times, part).toFixed(0)).join(' / ');
const load = (): string =>
  loadavg()
    .map((one) => one.toFixed(2))
    .join(' ');

/** Finds how much slower the page has to be made. Answers the rate and the index that was then measured. */
async function calibrate(browser: Browser, wanted: number) {
  const context = await browser.newContext();
  const page = await context.newPage();
  const cdp = await context.newCDPSession(page);
  let rate = 1;
  let index = await page.evaluate(benchmarkIndex);
  for (let tries = 0; tries < 4 && Math.abs(index / wanted - 1) > 0.05; tries += 1) {
    rate = Math.max(1, (rate * index) / wanted);
    await cdp.send('Emulation.setCPUThrottlingRate', { rate });
    index = await page.evaluate(benchmarkIndex);
  }
  await context.close();
  return { rate, index };
}

const newContext = async (browser: Browser) => {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
    locale: 'en-GB',
    timezoneId: 'Europe/London',
  });
  await context.addInitScript(meter);
  return context;
};

type Results = Readonly<Record<Name, readonly Round[]>>;

/** The three pages take turns, so that what else the machine does hits all of them. */
async function tapAll(
  browser: Browser,
  all: readonly Contestant[],
  { rate, waitMs }: { readonly rate: number; readonly waitMs: number },
): Promise<Results> {
  const results = Object.fromEntries(contestants.map((name): [Name, Round[]] => [name, []]));
  for (const { cdp } of all) await cdp.send('Emulation.setCPUThrottlingRate', { rate });
  for (let round = 0; round <= rounds; round += 1)
    for (const one of all) {
      const own = round === 0 ? tapsToWarmUp : taps;
      const done = await roundOf(browser, one, { taps: own, seed: 77 + round, waitMs });
      if (round > 0) results[one.name]?.push(done);
      process.stderr.write(`${one.name} ${workPerTap(done).toFixed(1)} `);
    }
  const { lastlook = [], plain = [], react = [] } = results;
  return { lastlook, plain, react };
}

const workPerTap = ({ work }: Round): number => work.allMs / work.taps;

function tell(results: Results): void {
  console.log(
    '| page | work a tap, ms | of it drawing | ÷ plain DOM | tap to frame p50 / p95 / p98 | Event Timing p50 / p98 | ' +
      'durable p50 / p95 | new number drawn p50 / p95 | longest task, ms | tasks over 50 ms |\n' +
      `${'| --- '.repeat(10)}|`,
  );
  for (const name of contestants) {
    const own = results[name];
    const all = own.flatMap(({ metered }) => metered.taps);
    const tasks = own.flatMap(({ work }) => work.tasksMs);
    const ratios = own.map((round, n) => workPerTap(round) / workPerTap(results.plain[n] ?? round));
    const cells = [
      name,
      quantile(own.map(workPerTap), 0.5).toFixed(2),
      quantile(
        own.map(({ work }) => work.drawingMs / work.taps),
        0.5,
      ).toFixed(2),
      quantile(ratios, 0.5).toFixed(2),
      at(
        all.map((tap) => tap.frame),
        0.5,
        0.95,
        0.98,
      ),
      at(
        own.flatMap(({ metered }) => metered.events),
        0.5,
        0.98,
      ),
      at(
        all.map((tap) => tap.durable),
        0.5,
        0.95,
      ),
      at(
        all.map((tap) => tap.number),
        0.5,
        0.95,
      ),
      Math.max(...tasks).toFixed(0),
      `${tasks.filter((ms) => ms > 50).length}`,
    ];
    console.log(`| ${cells.join(' | ')} |`);
  }
  const [last] = results.lastlook;
  const most = last?.work.most.map(([what, ms]) => `${what} ${(ms / last.work.taps).toFixed(2)}`);
  const plain = results.plain.at(-1);
  const mostPlain = plain?.work.most.map(
    ([what, ms]) => `${what} ${(ms / plain.work.taps).toFixed(2)}`,
  );
  console.log(`\nlastlook, ms a tap by trace event: ${most?.join(', ')}.`);
  console.log(`plain DOM: ${mostPlain?.join(', ')}.`);
}

/** From the start of a new page to a screen that can be tapped, in a tablet that has the program. */
async function coldStarts(
  context: Awaited<ReturnType<typeof newContext>>,
  origin: string,
  { rate, selector }: { readonly rate: number; readonly selector: string },
): Promise<string> {
  const times: number[] = [];
  let shift = 0;
  for (let n = 0; n < 7; n += 1) {
    const page = await context.newPage();
    const cdp = await context.newCDPSession(page);
    await cdp.send('Emulation.setCPUThrottlingRate', { rate });
    await page.addInitScript((wanted) => {
      const look = (): void => {
        const isThere = document.querySelector(wanted) !== null;
        const drawn = () => Reflect.set(window, 'usableAt', performance.now());
        requestAnimationFrame(isThere ? () => setTimeout(drawn) : look);
      };
      look();
    }, selector);
    await page.goto(origin);
    // Asked again and again: the page lets no text be run, which is how a test waits for one.
    while (!(await page.evaluate('window.usableAt !== undefined'))) await page.waitForTimeout(20);
    times.push(await page.evaluate<number>('usableAt'));
    await page.waitForTimeout(1000);
    shift = Math.max(shift, (await page.evaluate<{ shift: number }>('takeMetered()')).shift);
    await page.close();
  }
  const told = times.map((ms) => ms.toFixed(0)).join(', ');
  return `${told} ms; median ${quantile(times, 0.5).toFixed(0)} ms; layout shift ${shift.toFixed(4)}`;
}

async function startsOf(browser: Browser, origin: string, rate: number): Promise<void> {
  const context = await newContext(browser);
  const page: Page = await context.newPage();
  await page.goto(origin);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.close();
  const first = await coldStarts(context, origin, { rate, selector: '.start-foot button' });
  console.log(`\nCold start to the first screen: ${first} (goal: 1,500 on a low-end tablet).`);
  const again = await context.newPage();
  await openFrame(again, origin, 40);
  await again.close();
  const frame = await coldStarts(context, origin, { rate, selector: '.wire' });
  console.log(`Cold start to a case that goes on, 40 lines: ${frame}.`);
  await context.close();
}

const served = await serveAll();
const browser = await chromium.launch(launchOptions);
for (const tier of tiers.filter((one) => onlyTier === undefined || one === onlyTier)) {
  const { index: wanted, waitMs } = tablets[tier];
  const { rate, index } = await calibrate(browser, wanted);
  for (const lines of [40, 150].filter((n) => onlyLines === undefined || n === Number(onlyLines))) {
    console.log(
      `\n## ${tier} tablet, ${lines} lines: slowed down ${rate.toFixed(1)} times, benchmark index ` +
        `${index.toFixed(0)} (wanted ${wanted}), load average ${load()}\n`,
    );
    const context = await newContext(browser);
    tell(await tapAll(browser, await openAll(context, served, lines), { rate, waitMs }));
    await context.close();
  }
  if (onlyLines === undefined || onlyLines === 'start')
    await startsOf(browser, served.origin, rate);
}
console.log(`\nLoad average at the end: ${load()}.`);
await browser.close();
await served.stop();
