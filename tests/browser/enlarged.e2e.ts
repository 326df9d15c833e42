/**
 * Words of twice the size: a tablet zoomed to 200 % has half its pixels in each direction. Everything can still be
 * reached by scrolling the page down, and by that alone.
 *
 * Source: WCAG 2.2, 1.4.4 Resize Text; 1.4.10 Reflow asks for the same of a page that is scrolled one way.
 */
import { expect, type Page } from '@playwright/test';
import { cutOff, shutAway, tooSmall } from './measure.ts';
import { play } from './practiceCase.ts';
import { press, test } from './theatre.ts';
import { tour } from './tour.ts';
import { setUpUnit } from './unit.ts';

const zoomed = [
  { width: 640, height: 400 },
  { width: 400, height: 640 },
] as const;

/** A foot below the window is scrolled to; 1.4.10 leaves a table its two directions. */
const isMeant = (found: string): boolean =>
  found.endsWith('is out of the window') || /^table.*scrolls sideways$/.test(found);

const wrongOn = async (page: Page): Promise<readonly string[]> => [
  ...(await tooSmall(page)),
  ...(await cutOff(page)).filter((found) => !isMeant(found)),
  ...(await shutAway(page)),
];

/** What is wrong with a screen in both directions of the zoomed tablet. */
async function wrongZoomed(page: Page, screen: string): Promise<readonly string[]> {
  const wrong: string[] = [];
  const before = page.viewportSize();
  for (const size of zoomed) {
    await page.setViewportSize(size);
    await page.waitForTimeout(100);
    const found = await wrongOn(page);
    wrong.push(...found.map((one) => `${screen}, ${size.width} × ${size.height}: ${one}`));
  }
  if (before) await page.setViewportSize(before);
  return wrong;
}

test('at 200 % nothing is cut off, shut away or scrolled sideways on any screen', async ({
  page,
}) => {
  test.setTimeout(600_000);
  await page.goto('/');
  const wrong: string[] = [];
  let screens = 0;
  await tour(page, async (screen) => {
    screens += 1;
    wrong.push(...(await wrongZoomed(page, screen)));
  });
  expect(screens).toBeGreaterThan(45);
  expect(wrong).toEqual([]);
});

test('nor on those of practice', async ({ page }) => {
  test.setTimeout(600_000);
  await page.goto('/');
  const wrong: string[] = [];
  const screens: string[] = [];
  await play(page, {
    say: (_, __, lies) => lies,
    isFound: true,
    look: async (screen) => {
      screens.push(screen);
      wrong.push(...(await wrongZoomed(page, screen)));
    },
  });
  expect(screens.length).toBeGreaterThan(9);
  expect(wrong).toEqual([]);
});

test('nor on those of people', async ({ page }) => {
  test.setTimeout(600_000);
  await page.goto('/');
  const wrong: string[] = [];
  const look = async (screen: string) => void wrong.push(...(await wrongZoomed(page, screen)));
  await setUpUnit(page, look);
  await look('start-open');
  await press(page, 'People…');
  await look('people-open');
  await press(page, 'Add a person');
  await look('person');
  expect(wrong).toEqual([]);
});
