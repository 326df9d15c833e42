/**
 * What a case costs in taps, screens and text entries: `npm run bench:taps`. It plays worked cases through the
 * built program in Chromium, by touch, and counts in the page; beside it stand the marks and words that paper needs
 * for the same case, counted from the record that came out. It is no test: nothing fails.
 */
import { chromium, type Page } from '@playwright/test';
import { preview } from 'vite';
import { caseF1 } from '../browser/caseF1.ts';
import { caseF2 } from '../browser/caseF2.ts';
import { launchOptions } from '../browser/launch.ts';
import { untilOffline } from '../browser/theatre.ts';
import { makeWorld, type Phase } from '../browser/world.ts';

type Cost = { readonly taps: number; readonly screens: number; readonly texts: number };

/** Counts in the page: pointers that go down, fields that are written in, screens and dialogs that come. */
function countInPage(): void {
  const cost = { taps: 0, screens: 0, texts: 0 };
  let written: EventTarget | null = null;
  let shown = '';
  addEventListener(
    'pointerdown',
    () => {
      cost.taps += 1;
    },
    true,
  );
  addEventListener(
    'input',
    ({ target }) => {
      if (target !== written) cost.texts += 1;
      written = target;
    },
    true,
  );
  const look = () => {
    const dialog = document.querySelector('dialog .dialog-title')?.textContent;
    const main = document
      .querySelector('main section[aria-label], main h1')
      ?.getAttribute('aria-label');
    const now = `${main ?? document.querySelector('h1')?.textContent}/${dialog ?? ''}`;
    if (now !== shown) cost.screens += 1;
    shown = now;
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true });
  Object.assign(window, { readCost: () => ({ ...cost }) });
}

const readCost = (page: Page): Promise<Cost> => page.evaluate('readCost()');

const less = (one: Cost, other: Cost): Cost => ({
  taps: one.taps - other.taps,
  screens: one.screens - other.screens,
  texts: one.texts - other.texts,
});

async function play(name: string, phases: readonly Phase[]): Promise<void> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
    locale: 'en-GB',
    timezoneId: 'Europe/London',
  });
  const page = await context.newPage();
  await page.addInitScript(countInPage);
  await page.clock.setSystemTime('2026-01-05T09:15:00Z');
  await page.goto(origin);
  await untilOffline(page);
  const world = makeWorld();
  console.log(`\n${name}\n\n| phase | taps | screens | text entries |\n| --- | --- | --- | --- |`);
  let before: Cost = await readCost(page);
  const start = before;
  for (const phase of phases) {
    await phase.play(page, world);
    const now = await readCost(page);
    const { taps, screens, texts } = less(now, before);
    console.log(`| ${phase.name} | ${taps} | ${screens} | ${texts} |`);
    before = now;
  }
  const { taps, screens, texts } = less(before, start);
  console.log(`| in all | ${taps} | ${screens} | ${texts} |`);
  await context.close();
}

const server = await preview({ preview: { port: 4375, strictPort: true }, logLevel: 'warn' });
const origin = server.resolvedUrls?.local[0] ?? 'http://127.0.0.1:4375/';
const browser = await chromium.launch(launchOptions);
await play('F1, three pre-tied loops', caseF1);
await play('F2, braided ties, one refusal', caseF2);
await browser.close();
await server.close();
