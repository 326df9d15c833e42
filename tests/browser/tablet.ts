/** A tablet of its own that can lose its power: a browser with a profile that stays on the disk. */
import { type BrowserContext, chromium, expect, type Page } from '@playwright/test';
import { launchOptions } from './launch.ts';
import { untilOffline, watch } from './theatre.ts';

export type Tablet = {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What left the origin, and faults. */
  readonly wrong: readonly string[];
  /** SIGKILL for the whole browser, in the middle of whatever it does. */
  readonly kill: () => Promise<void>;
};

/** The number of the browser's own process. Everything else of it ends with it. */
async function processOf(context: BrowserContext): Promise<number> {
  const session = await context.browser()?.newBrowserCDPSession();
  if (!session) throw new Error('This context has no browser of its own.');
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  const own = processInfo.find(({ type }) => type === 'browser');
  if (!own) throw new Error('The browser does not say which process it is.');
  return own.id;
}

/** Switches a tablet on and opens the program; the network is cut as soon as it can do without. */
export async function switchOn(
  profile: string,
  origin: string,
  executablePath = launchOptions.executablePath,
): Promise<Tablet> {
  const tablet = await switchOnAgain(profile, origin, executablePath);
  await untilOffline(tablet.page);
  await tablet.context.setOffline(true);
  await tablet.page.reload();
  await expect(tablet.page.locator('#root > *').first()).toBeVisible();
  return tablet;
}

/** The same where it was open before: nothing is waited for. */
export async function switchOnAgain(
  profile: string,
  origin: string,
  executablePath = launchOptions.executablePath,
): Promise<Tablet> {
  const context = await chromium.launchPersistentContext(profile, {
    ...launchOptions,
    executablePath,
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
    locale: 'en-GB',
    timezoneId: 'Europe/London',
  });
  const wrong = watch(context, origin);
  const page = context.pages()[0] ?? (await context.newPage());
  const id = await processOf(context);
  await page.goto(origin);
  await expect(page.locator('#root > *').first()).toBeVisible();
  let isGone = false;
  const gone = new Promise<void>((resolve) =>
    context.once('close', () => {
      isGone = true;
      resolve();
    }),
  );
  const kill = async () => {
    if (!isGone) process.kill(id, 'SIGKILL');
    await gone;
  };
  return { page, context, wrong, kill };
}
