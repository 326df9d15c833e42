/** The three pages that are compared, each on an origin of its own, with the same screen on it. */
import { join } from 'node:path';
import type { BrowserContext, CDPSession, Page } from '@playwright/test';
import { build, preview } from 'vite';
import { untilOffline } from '../../browser/theatre.ts';
import { serve } from '../../soak/soakCase.ts';
import { benchCase } from './benchCase.ts';

const here = import.meta.dirname;
const top = join(here, '..', '..', '..');
const out = join(top, 'reports', 'ui');

export const contestants = ['lastlook', 'plain', 'react'] as const;
export type Name = (typeof contestants)[number];
export type Contestant = { readonly name: Name; readonly page: Page; readonly cdp: CDPSession };

/** Builds the program and the two other pages alike, and serves all three on loopback. */
export async function serveAll() {
  await build({ configFile: join(top, 'vite.config.ts'), logLevel: 'error' });
  await build({
    configFile: false,
    root: here,
    logLevel: 'warn',
    build: {
      outDir: out,
      emptyOutDir: true,
      target: 'es2022',
      modulePreload: { polyfill: false },
      rolldownOptions: { input: [join(here, 'plain.html'), join(here, 'react.html')] },
    },
  });
  const others = await preview({
    configFile: false,
    root: here,
    build: { outDir: out },
    preview: { host: '127.0.0.1', port: 4382, strictPort: true },
    logLevel: 'warn',
  });
  const own = await serve(4381);
  return {
    origin: own.origin,
    others: 'http://127.0.0.1:4382',
    stop: async () => {
      await own.stop();
      await others.close();
    },
  };
}

/** Brings a case with so many lines onto a tablet and opens it at the counting frame. */
export async function openFrame(page: Page, origin: string, lines: number): Promise<void> {
  await page.goto(origin);
  await untilOffline(page);
  const buffer = Buffer.from(await benchCase(lines));
  const name = 'bench.jsonl';
  await page
    .getByLabel('Bring in a case')
    .setInputFiles({ name, mimeType: 'application/x-ndjson', buffer });
  await page.locator('.start-case').first().tap();
  await page.locator('.wire').first().waitFor();
}

/** The program with its case, and the two pages that were given a copy of its screen. */
export async function openAll(
  context: BrowserContext,
  { origin, others }: { readonly origin: string; readonly others: string },
  lines: number,
): Promise<readonly Contestant[]> {
  const own = await context.newPage();
  await openFrame(own, origin, lines);
  // Locators leave listeners on a page, called eight times a tap, which the two others do not have: from here none.
  await own.reload();
  while (!(await own.evaluate(() => document.querySelector('.wire') !== null)))
    await own.waitForTimeout(50);
  const copy = await own.evaluate(() => document.body.innerHTML);
  const opened: Contestant[] = [];
  for (const name of contestants) {
    const page = name === 'lastlook' ? own : await context.newPage();
    if (name !== 'lastlook') {
      await page.goto(`${others}/${name}.html`);
      const mount = Promise.resolve(copy);
      await page.evaluate(async (html) => Reflect.get(window, 'mount')(html), await mount);
    }
    opened.push({ name, page, cdp: await context.newCDPSession(page) });
  }
  return opened;
}
