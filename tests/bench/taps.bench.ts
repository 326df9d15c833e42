/**
 * What a case costs in taps, screens and text entries: `npm run bench:taps`. It plays worked cases through the
 * built program in Chromium, by touch, and counts in the page; beside it stand the marks and words that paper needs
 * for the same case, counted from the record that came out. It is no test: nothing fails.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type Page } from '@playwright/test';
import { preview } from 'vite';
import { drillsOf } from '#drill/drillFile.ts';
import { runDrill } from '#drill/runDrill.ts';
import { caseF1 } from '../browser/caseF1.ts';
import { caseF2 } from '../browser/caseF2.ts';
import { caseF5 } from '../browser/caseF5.ts';
import { launchOptions } from '../browser/launch.ts';
import { untilOffline } from '../browser/theatre.ts';
import { makeWorld, type Phase } from '../browser/world.ts';
import { drillFolder, sheets } from '../support/drillSheets.ts';
import { howPaperIsCounted, type PaperCost, paperCost } from './paperCost.ts';

type Cost = {
  readonly taps: number;
  /** Of the taps, those that turned a page of the frame or of a list. */
  readonly pages: number;
  readonly screens: number;
  readonly texts: number;
};

/**
 * Counts in the page: pointers that go down, fields that are written in, screens and dialogs that come; and for what
 * the pages were turned, which is what was tapped after them.
 */
function countInPage(): void {
  const cost = { taps: 0, pages: 0, screens: 0, texts: 0 };
  const turnedFor: string[] = [];
  let turns = 0;
  let written: EventTarget | null = null;
  let shown = '';
  addEventListener(
    'pointerdown',
    ({ target }) => {
      cost.taps += 1;
      const tapped = target instanceof Element ? target.closest('button, a, input') : null;
      if (tapped?.matches('.scroller-key')) {
        cost.pages += 1;
        turns += 1;
      } else if (turns > 0) {
        turnedFor.push(`${turns} for ${tapped?.ariaLabel ?? tapped?.textContent}`);
        turns = 0;
      }
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
  const readTurns = () => turnedFor.splice(0);
  Object.assign(window, { readCost: () => ({ ...cost }), readTurns });
}

const readCost = (page: Page): Promise<Cost> => page.evaluate('readCost()');
const readTurns = (page: Page): Promise<readonly string[]> => page.evaluate('readTurns()');

const less = (one: Cost, other: Cost): Cost => ({
  taps: one.taps - other.taps,
  pages: one.pages - other.pages,
  screens: one.screens - other.screens,
  texts: one.texts - other.texts,
});

const rowOf = (name: string, { taps, pages, screens, texts }: Cost): string =>
  `| ${name} | ${taps} | ${pages} | ${screens} | ${texts} |`;

/** Marks and words on paper for the case of a drill. */
function onPaper(file: string): PaperCost {
  const read = drillsOf(readFileSync(join(drillFolder, file), 'utf8'), sheets);
  const [ready] = read.ok ? read.drills : [];
  if (!ready) throw new Error(`${file} is no drill.`);
  return paperCost(runDrill(ready.drill, ready.sheet).events);
}

async function play(name: string, phases: readonly Phase[], drill: string): Promise<void> {
  const context = await browser.newContext({
    viewport: size,
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
  console.log(
    `\n${name}\n\n| phase | taps | of them page turns | screens | text entries |\n| --- | --- | --- | --- | --- |`,
  );
  let before: Cost = await readCost(page);
  const start = before;
  for (const phase of phases) {
    await phase.play(page, world);
    const now = await readCost(page);
    console.log(rowOf(phase.name, less(now, before)));
    before = now;
  }
  console.log(rowOf('in all', less(before, start)));
  const turns = await readTurns(page);
  if (turns.length > 0) console.log(`\nPages turned: ${turns.join('; ')}.`);
  const { marks, words } = onPaper(drill);
  console.log(`\nOn paper: ${marks} marks and ${words} words, ${marks + words} in all.`);
  await context.close();
}

/** The screen that is played on: `npm run bench:taps -- 1024x640`. Units: CSS pixels. */
function sizeOf(words: string): { readonly width: number; readonly height: number } {
  const [, width, height] = /^(\d+)x(\d+)$/.exec(words) ?? [];
  if (width === undefined || height === undefined) throw new Error(`${words} is no size: 1024x640`);
  return { width: Number(width), height: Number(height) };
}

const size = sizeOf(process.argv[2] ?? '1280x800');
const server = await preview({ preview: { port: 4375, strictPort: true }, logLevel: 'warn' });
const origin = server.resolvedUrls?.local[0] ?? 'http://127.0.0.1:4375/';
const browser = await chromium.launch(launchOptions);
await play('F1, three pre-tied loops', caseF1, 'f01-three-loops.yaml');
await play('F2, braided ties, one refusal', caseF2, 'f02-braided-ties.yaml');
await play('F5, caesarean, one protector inside', caseF5, 'f05-protector-left-inside.yaml');
console.log(`\n${howPaperIsCounted.join('\n')}`);
await browser.close();
await server.close();
