/** Taps as a finger does: down, a short rest, up, at uneven times. */
import type { Browser } from '@playwright/test';
import type { Metered, Tap } from './meter.ts';
import type { Contestant } from './pages.ts';
import { traceCategories, type Work, workIn } from './trace.ts';

export type Round = { readonly work: Work; readonly metered: Metered };

/** The same uneven numbers from the same start. */
function uneven(seed: number): (least: number, most: number) => number {
  let state = seed;
  return (least, most) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return least + (state / 2 ** 32) * (most - least);
  };
}

const rest = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Rows that are tapped: each in turn, one in and later one out again. */
const rows = 5;

/** The middles of the stretches that are tapped: on the table and in the patient, row by row. */
const spots = ({ page }: Contestant) =>
  page.evaluate((most) => {
    const middle = (element: Element) => {
      const { left, top, width, height } = element.getBoundingClientRect();
      return { x: left + width / 2, y: top + height / 2 };
    };
    const wires = [...document.querySelectorAll('.wire')].slice(0, most);
    return wires.map((wire) => {
      const [table, inside] = wire.querySelectorAll('.stretch');
      if (!table || !inside) throw new Error('A wire has no stretches.');
      return [middle(table), middle(inside)] as const;
    });
  }, rows);

export type Tapping = { readonly taps: number; readonly seed: number; readonly waitMs: number };

/** Taps so often, and waits each time until the number has changed and been drawn. */
async function tapAway(one: Contestant, { taps, seed, waitMs }: Tapping): Promise<void> {
  const at = await spots(one);
  const between = uneven(seed);
  for (let n = 0; n < taps; n += 1) {
    const [table, inside] = at[n % at.length] ?? [];
    const spot = Math.floor(n / at.length) % 2 === 0 ? table : inside;
    if (!spot) throw new Error('There is nothing to tap.');
    const touchPoints = [{ ...spot, radiusX: 9, radiusY: 9, force: 0.5, id: 1 }];
    await one.cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints });
    await rest(between(20, 60));
    await one.cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await rest(between(waitMs, waitMs * 1.5));
  }
}

/** One round: traced and metered. An even number of times through all rows leaves everything where it was. */
export async function roundOf(browser: Browser, one: Contestant, tapping: Tapping): Promise<Round> {
  await one.page.bringToFront();
  await one.cdp.send('HeapProfiler.collectGarbage');
  await one.page.evaluate('takeMetered()');
  await browser.startTracing(one.page, { categories: traceCategories });
  await tapAway(one, tapping);
  await rest(tapping.waitMs);
  const trace = await browser.stopTracing();
  const metered: Metered = await one.page.evaluate('takeMetered()');
  const missed = metered.taps.filter((tap: Tap) => tap.number === 0).length;
  if (metered.taps.length !== tapping.taps || missed > 0)
    throw new Error(
      `${one.name}: of ${tapping.taps} taps ${metered.taps.length} came, ${missed} drew nothing.`,
    );
  return { work: workIn(trace), metered };
}
