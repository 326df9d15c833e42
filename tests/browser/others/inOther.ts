/** Plays a test of the tablet in a browser that Playwright does not drive. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { expect as expectOn, type Page } from '@playwright/test';
import { preview } from 'vite';
import { expect, test } from 'vitest';
import { caseF1 } from '../caseF1.ts';
import { caseF2 } from '../caseF2.ts';
import { caseF5 } from '../caseF5.ts';
import { oneTapTouches } from '../oneTap.ts';
import { button, untilOffline } from '../theatre.ts';
import { makeWorld } from '../world.ts';
import type { Driver, Size } from './driver.ts';
import { WholePage } from './page.ts';

type Other = {
  readonly name: string;
  readonly start: (size: Size) => Promise<Driver>;
  /** Of the pages; another for each browser, since they run side by side. */
  readonly port: number;
};

/** A page with the program in it, and the way to take its server away. */
type Tablet = { readonly page: WholePage; readonly cutNetwork: () => Promise<void> };

/** Whatever ends the test, everything that was started is ended; a picture of the last screen is kept. */
async function onTablet({ name, start, port }: Other, play: (tablet: Tablet) => Promise<void>) {
  const server = await preview({ preview: { port, strictPort: true }, logLevel: 'warn' });
  const driver = await start({ width: 1280, height: 800 }).catch(async (fault) => {
    await server.close();
    throw fault;
  });
  try {
    const page = new WholePage(driver);
    await page.goto(`http://127.0.0.1:${port}/`);
    await play({ page, cutNetwork: () => server.close() });
    expect(await page.wrong()).toEqual([]);
  } catch (fault) {
    mkdirSync('test-results', { recursive: true });
    writeFileSync(`test-results/${name}.png`, await driver.picture());
    throw fault;
  } finally {
    await driver.end();
    await server.close();
  }
}

/** It has what these tests use of Playwright's page, and nothing else. */
const isPageEnough = (page: object): page is Page => page instanceof WholePage;

function asPage(page: WholePage): Page {
  if (isPageEnough(page)) return page;
  throw new Error('This is no page.');
}

/** Only then is its clock set: what the program waits for at its start it measures by that clock. */
const untilReady = (page: WholePage): Promise<void> =>
  expectOn(button(asPage(page), 'Start a case')).toBeVisible();

/** Worked cases of the drills. */
const cases = [
  ['F1', caseF1],
  ['F2', caseF2],
  ['F5', caseF5],
] as const;

/** The worked cases from the first screen to the record, and what one tap touches. */
export function testsIn(other: Other): void {
  test.each(cases)(`worked case %s in ${other.name}, its server gone`, (_, phases) =>
    onTablet(other, async ({ page, cutNetwork }) => {
      await untilOffline(asPage(page));
      await cutNetwork();
      await page.reload();
      await untilReady(page);
      await page.clock.setSystemTime('2026-01-05T09:15:00Z');
      const world = makeWorld();
      for (const { play } of phases) await play(asPage(page), world);
    }),
  );

  test(`one tap in ${other.name} touches its row, the holds and the foot`, () =>
    onTablet(other, async ({ page }) => {
      await untilReady(page);
      await page.clock.setFixedTime('2026-01-05T09:15:00Z');
      await oneTapTouches(asPage(page));
    }));
}
