/**
 * `npm run bench:journal`: what it costs to acknowledge an entry (hashing, sealing, both copies on disk) beside one raw
 * strict put of the same bytes into IndexedDB, in one run in Chromium; and how long a case of 2,000 entries takes from
 * the tap to a screen that can be used, with the processor slowed down 4 times. It is no test: nothing fails.
 */
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from '@playwright/test';
import { build, preview } from 'vite';
import { createSession } from '#session/createSession.ts';
import { launchOptions } from '../browser/launch.ts';
import { button } from '../browser/theatre.ts';
import { newProfile, serve } from '../soak/soakCase.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';

const quantile = (times: readonly number[], part: number): number =>
  [...times].sort((one, other) => one - other)[Math.floor((times.length - 1) * part)] ?? 0;

async function withBrowser(
  work: (context: BrowserContext, page: Page) => Promise<void>,
): Promise<void> {
  const { profile, remove } = newProfile();
  const context = await chromium.launchPersistentContext(profile, {
    ...launchOptions,
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
  });
  try {
    await work(context, context.pages()[0] ?? (await context.newPage()));
  } finally {
    await context.close();
    remove();
  }
}

type Measured = {
  readonly ours: readonly number[];
  readonly theirs: readonly number[];
  readonly bytes: number;
  readonly homes: readonly string[];
};

async function benchEntries(entries: number): Promise<void> {
  const root = join(import.meta.dirname, 'journal');
  const { profile: outDir, remove } = newProfile();
  const settings = { root, configFile: false, logLevel: 'error' } as const;
  await build({ ...settings, build: { outDir, emptyOutDir: true, target: 'es2022' } });
  const server = await preview({
    ...settings,
    build: { outDir },
    preview: { host: '127.0.0.1', port: 4378, strictPort: true },
  });
  for (const isSealed of [true, false])
    await withBrowser(async (_context, page) => {
      await page.goto('http://127.0.0.1:4378/');
      const measured: Measured = JSON.parse(
        String(await page.evaluate(`measure(${entries}, ${isSealed}).then(JSON.stringify)`)),
      );
      const row = (name: string, times: readonly number[]) =>
        console.log(
          `| ${name} | ${[0.5, 0.9, 0.99].map((part) => quantile(times, part).toFixed(2)).join(' | ')} |`,
        );
      const { ours, theirs, bytes, homes } = measured;
      console.log(
        `\n${entries} entries of ${bytes} bytes, ${isSealed ? 'sealed' : 'plain'}, into ${homes.join(' and ')}\n`,
      );
      console.log('| milliseconds | median | 90 % | 99 % |\n| --- | --- | --- | --- |');
      row('one entry, acknowledged', ours);
      row('one raw strict put', theirs);
      console.log(
        `\nRatio of the medians: ${(quantile(ours, 0.5) / quantile(theirs, 0.5)).toFixed(2)} (goal: at most 2)`,
      );
    });
  await server.close();
  remove();
}

/** A case of so many entries, as a tablet would have given it out. */
async function longCase(entries: number): Promise<string> {
  const session = createSession(makeWorld().ports);
  await session.start();
  const sheet = sheetNamed('ports-and-swabs');
  await session.begin(invented(sheet));
  const { current } = session.store.getSnapshot().context;
  for (let n = 1; n < entries; n += 1) await session.send({ type: 'note', text: `Note ${n}` });
  return (await session.exportCase(current?.id ?? '')) ?? '';
}

async function benchOpening(entries: number): Promise<void> {
  const { origin, stop } = await serve(4379);
  const { profile: folder, remove } = newProfile();
  const file = join(folder, 'case.txt');
  writeFileSync(file, await longCase(entries));
  await withBrowser(async (context, page) => {
    const opened: number[] = [];
    await page.goto(origin);
    await page.getByLabel('Bring in a case').setInputFiles(file);
    await page.getByRole('status').getByText('The case was brought in whole.').waitFor();
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    for (let time = 1; time <= 5; time += 1) {
      await page.reload();
      await page.locator('.start-case').waitFor();
      await page.evaluate(() => {
        addEventListener('click', () => performance.mark('asked'), { capture: true, once: true });
        const look = (): void => {
          const isThere = document.querySelector('.case-main') !== null;
          // Drawn, and not only made: the frame after the one in which it is there.
          if (isThere) requestAnimationFrame(() => performance.mark('usable'));
          else requestAnimationFrame(look);
        };
        look();
      });
      await page.locator('.start-case').tap();
      await button(page, 'Take back').waitFor();
      const ms = await page.evaluate(
        () => performance.measure('opening', 'asked', 'usable').duration,
      );
      opened.push(ms);
      // Back to the first screen: another start, so that nothing of the case is in mind.
      await page
        .getByRole('navigation', { name: 'Stations of the case' })
        .getByRole('button', { name: /^Record/ })
        .tap();
      await page.getByRole('button', { name: 'All cases' }).tap();
      await page.locator('.start-case').waitFor();
    }
    console.log(`\nA case of ${entries} entries, from the tap to its screen, at 4 times slower:`);
    console.log(
      `${opened.map((ms) => ms.toFixed(0)).join(', ')} ms; median ${quantile(opened, 0.5).toFixed(0)} ms (goal: under 300)`,
    );
  });
  await stop();
  remove();
  rmSync(file, { force: true });
}

const [what] = process.argv.slice(2);
if (what !== 'opening') await benchEntries(400);
if (what !== 'entries') await benchOpening(2000);
