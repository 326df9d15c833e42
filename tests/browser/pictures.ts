/**
 * Takes a picture of every screen in both light levels, from the built program, into
 * tests/browser/pictures/; of some also in the other sizes of a tablet, held upright, and on a wall.
 * `operating.png` is the one that README shows; only that one is kept under version control.
 */
import { mkdirSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { preview } from 'vite';
import { launchOptions } from './launch.ts';
import { untilOffline } from './theatre.ts';
import { tour } from './tour.ts';

const folder = 'tests/browser/pictures';
const large = { width: 1280, height: 800 };
const others = [
  { name: 'small', width: 1024, height: 640 },
  { name: 'upright', width: 800, height: 1280 },
  { name: 'broad', width: 1366, height: 1024 },
  { name: 'on-the-wall', width: 1920, height: 1080 },
] as const;
const inAllSizes = ['operating', 'wall', 'closing-count', 'discrepancy', 'time-out-dose', 'record'];

mkdirSync(folder, { recursive: true });
const server = await preview({ preview: { port: 4373, strictPort: true }, logLevel: 'warn' });
const origin = server.resolvedUrls?.local[0] ?? 'http://127.0.0.1:4373/';
const browser = await chromium.launch(launchOptions);
const page = await browser.newPage({
  viewport: large,
  hasTouch: true,
  locale: 'en-GB',
  timezoneId: 'Europe/London',
  reducedMotion: 'reduce',
});
await page.goto(origin);
await untilOffline(page);

const setLights = (level: 'up' | 'down') =>
  page.evaluate(async (to) => {
    document.documentElement.dataset.lights = to;
    await Promise.all(document.getAnimations().map((animation) => animation.finished));
  }, level);

const take = (name: string) => page.screenshot({ path: `${folder}/${name}.png` });

/** So long a key stays dark after a tap, and a clock may lag. Units: milliseconds. */
const calmMs = 200;
const clockMs = 1000;

await tour(page, async (screen) => {
  await page.waitForTimeout(screen === 'operating' ? clockMs : calmMs);
  await take(screen);
  await setLights('down');
  await take(`${screen}-lights-down`);
  await setLights('up');
  for (const { name, ...size } of inAllSizes.includes(screen) ? others : []) {
    await page.setViewportSize(size);
    await take(`${screen}-${name}`);
  }
  await page.setViewportSize(large);
});

await browser.close();
await server.close();
