/**
 * `npm run soak:long -- N`: a case of 24 hours in compressed time, with N entries (20,000), in Chromium. Compares the
 * last hour with the first: what is on the heap after a collection, nodes and listeners of the page, and how long a
 * tap takes. Exit 1 if the heap has grown by more than 5 MB, if there is one node or listener more, or if a tap takes a
 * tenth longer. The rows that are kept packed lie in buffers, outside of the heap: how much those are is said beside
 * it, and what the same case weighs when it was freshly opened.
 *
 * The taps that are timed are real touches. The others are clicks on the same two buttons from within the page, each
 * waited for until the screen shows it, since 20,000 touches through the driver would take most of an hour.
 */
import { parseArgs } from 'node:util';
import type { CDPSession, Page } from '@playwright/test';
import { switchOn } from '../browser/tablet.ts';
import { backToFrame, newProfile, operate, readRecord, serve } from './soakCase.ts';

const hours = 24;
const touches = 100;
/** As people tap: by then a file that was open is closed again. Units: milliseconds. */
const pauseMs = 300;
const growthMax = 5_000_000;
const slowerMax = 1.1;
const swab = 'Swab 10 × 10';

/** Moves the clock of the page on: the date, and the time since it began. */
const compressTime = (): void => {
  const [now, steady] = [Date.now, performance.now.bind(performance)];
  const real = Date;
  Reflect.set(globalThis, 'passedMs', 0);
  const passed = (): number => Number(Reflect.get(globalThis, 'passedMs'));
  Reflect.set(globalThis, 'realNow', steady);
  performance.now = () => steady() + passed();
  globalThis.Date = new Proxy(real, {
    construct: (made, given) =>
      Reflect.construct(made, given.length === 0 ? [now() + passed()] : given),
    get: (from, name) => (name === 'now' ? () => now() + passed() : Reflect.get(from, name)),
  });
};

/** What the page does for the driver: gives entries by clicks, and times touches. */
const helpers = (line: string): void => {
  const numbers = (): string =>
    [...document.querySelectorAll(`[aria-label^="${line}, "] .stretch-number`)]
      .map((one) => one.textContent)
      .join(' ');
  const shown = (before: string): Promise<void> =>
    new Promise((resolve) => {
      const observer = new MutationObserver(() => {
        if (numbers() === before) return;
        observer.disconnect();
        resolve();
      });
      observer.observe(document.body, { childList: true, subtree: true, characterData: true });
    });
  const buttonOf = (n: number): HTMLElement | undefined =>
    n % 2 === 0
      ? (document.querySelector<HTMLElement>(
          `[aria-label^="${line}, "][aria-label*="on the table"]`,
        ) ?? undefined)
      : [...document.querySelectorAll<HTMLElement>('button')].find(
          ({ textContent }) => textContent?.trim() === 'Take back',
        );
  const give = async (count: number, stepMs: number): Promise<void> => {
    for (let n = 0; n < count; n += 1) {
      Reflect.set(globalThis, 'passedMs', Number(Reflect.get(globalThis, 'passedMs')) + stepMs);
      const isShown = shown(numbers());
      buttonOf(n)?.click();
      await isShown;
    }
  };
  const realNow: () => number = Reflect.get(globalThis, 'realNow');
  const times: number[] = [];
  addEventListener(
    'pointerdown',
    () => {
      const begunAt = realNow();
      // The frame after the one in which the number is there: seen, and not only made.
      void shown(numbers()).then(() =>
        requestAnimationFrame(() => times.push(realNow() - begunAt)),
      );
    },
    { capture: true },
  );
  Reflect.set(globalThis, 'soak', { give, times });
};

export type Hour = {
  /** Of objects. Units: bytes. */
  readonly heap: number;
  /** What buffers hold beside it. Units: bytes. */
  readonly buffers: number;
  readonly nodes: number;
  readonly listeners: number;
  /** The median. Units: milliseconds. */
  readonly tapMs: number;
  readonly slowTapMs: number;
};

const quantile = (times: readonly number[], part: number): number =>
  [...times].sort((one, other) => one - other)[Math.floor((times.length - 1) * part)] ?? 0;

async function touchAway(page: Page, stepMs: number): Promise<readonly number[]> {
  const middle = async (words: RegExp) => {
    const box = await page.getByRole('button', { name: words }).first().boundingBox();
    if (!box) throw new Error(`There is no ${String(words)} to touch.`);
    return [box.x + box.width / 2, box.y + box.height / 2] as const;
  };
  const [inside, back] = [
    await middle(new RegExp(`^${swab}, .*on the table`)),
    await middle(/^Take back$/),
  ];
  await page.evaluate(() => Reflect.get(globalThis, 'soak').times.splice(0));
  for (let tap = 1; tap <= touches; tap += 1) {
    await page.evaluate((ms) => {
      Reflect.set(globalThis, 'passedMs', Number(Reflect.get(globalThis, 'passedMs')) + ms);
    }, stepMs);
    await page.touchscreen.tap(...(tap % 2 === 1 ? inside : back));
    while ((await page.evaluate(() => Reflect.get(globalThis, 'soak').times.length)) < tap)
      await page.waitForTimeout(20);
    await page.waitForTimeout(pauseMs);
  }
  return page.evaluate(() => Reflect.get(globalThis, 'soak').times);
}

type Held = Pick<Hour, 'heap' | 'buffers'>;

async function heldBy(session: CDPSession): Promise<Held> {
  for (let round = 0; round < 3; round += 1) await session.send('HeapProfiler.collectGarbage');
  const { usedSize, backingStorageSize } = await session.send('Runtime.getHeapUsage');
  return { heap: usedSize, buffers: backingStorageSize };
}

async function lookAtHour(page: Page, session: CDPSession, stepMs: number): Promise<Hour> {
  await session.send('HeapProfiler.collectGarbage');
  const times = await touchAway(page, stepMs);
  await page.waitForTimeout(2000); // what is done when nothing else is
  const held = await heldBy(session);
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
  return {
    ...held,
    nodes,
    listeners: jsEventListeners,
    tapMs: quantile(times, 0.5),
    slowTapMs: quantile(times, 0.95),
  };
}

const megabytes = (bytes: number): string => `${(bytes / 1_000_000).toFixed(2)} MB`;
const heldWords = ({ heap, buffers }: Held): string =>
  `heap ${megabytes(heap)} and buffers ${megabytes(buffers)}`;
const wordsOf = (hour: string, { nodes, listeners, tapMs, slowTapMs, ...held }: Hour): string =>
  `${hour} hour: ${heldWords(held)}, ${nodes} nodes, ${listeners} listeners, ` +
  `tap ${tapMs.toFixed(1)} ms (95 of 100 within ${slowTapMs.toFixed(1)} ms)`;

/** The same case in a page that was just loaded. */
async function opened(page: Page, session: CDPSession): Promise<Held> {
  await page.reload();
  await page.getByRole('navigation', { name: 'Stations of the case' }).waitFor();
  await page.waitForTimeout(2000);
  return heldBy(session);
}

function compare(first: Hour, last: Hour, fresh: Held): readonly string[] {
  const wrong: string[] = [];
  const heap = last.heap - first.heap;
  const buffers = last.buffers - first.buffers;
  console.log(
    `Grown by: ${heldWords({ heap, buffers })}. Freshly opened, the same case has ${heldWords(fresh)}.`,
  );
  if (heap > growthMax) wrong.push(`the heap has grown by more than ${megabytes(growthMax)}`);
  if (last.nodes > first.nodes) wrong.push(`${last.nodes - first.nodes} nodes were left behind`);
  if (last.listeners > first.listeners)
    wrong.push(`${last.listeners - first.listeners} listeners were left behind`);
  if (last.tapMs > first.tapMs * slowerMax)
    wrong.push(`a tap takes ${(last.tapMs / first.tapMs).toFixed(2)} times as long`);
  return wrong;
}

async function soakLong(entries: number, origin: string): Promise<readonly string[]> {
  const { profile, remove } = newProfile();
  const { page, context } = await switchOn(profile, origin);
  await context.addInitScript(compressTime);
  await page.reload();
  await operate(page);
  await page.evaluate(helpers, swab);
  const session = await context.newCDPSession(page);
  const stepMs = (hours * 3_600_000) / entries;
  const hour = Math.max(2, Math.round(entries / hours / 2) * 2 - touches);
  const give = (count: number) =>
    page.evaluate(
      ([n = 0, ms = 0]) => Reflect.get(globalThis, 'soak').give(n, ms),
      [count, stepMs],
    );
  const begun = Date.now();
  await give(hour);
  const first = await lookAtHour(page, session, stepMs);
  console.log(wordsOf('First', first));
  for (let given = 0; given < entries - 2 * (hour + touches); given += 1000)
    await give(Math.min(1000, entries - 2 * (hour + touches) - given));
  await give(hour);
  const last = await lookAtHour(page, session, stepMs);
  console.log(wordsOf('Last', last));
  const { rows } = await readRecord(page);
  await backToFrame(page);
  console.log(`${rows} rows, whole, in ${Math.round((Date.now() - begun) / 1000)} s.`);
  const wrong = compare(first, last, await opened(page, session));
  await context.close();
  remove();
  return rows < entries ? [...wrong, `only ${rows} rows`] : wrong;
}

const { positionals } = parseArgs({ allowPositionals: true });
const { origin, stop } = await serve(4381);
const wrong = await soakLong(Number(positionals[0] ?? 20_000), origin);
await stop();
for (const what of wrong) console.log(what);
console.log(`${wrong.length} things wrong.`);
process.exitCode = wrong.length > 0 ? 1 : 0;
