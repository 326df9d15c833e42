/**
 * `npm run bench:opening`: how long a case of 2,000 entries takes in Chromium from the tap on it to a screen
 * that can be used, with the processor slowed down 4 times. It is no test: nothing fails.
 */
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from '@playwright/test';
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

await benchOpening(2000);
