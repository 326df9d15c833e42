/**
 * The main screens in all sizes of a tablet, upright and on a wall: nothing is cut off, covered or too small to tap,
 * and each looks as it did, loosely. What is kept is a sheet of grey thumbnails for each screen, 64 pixels wide: a
 * line that moves by a row is seen, a letter that is drawn otherwise is not.
 *
 * A screen that was changed on purpose is looked at (`npm run pictures`), then kept:
 * `npx playwright test -c tests/browser/playwright.config.ts sizes --update-snapshots`.
 */
import { expect, type Page } from '@playwright/test';
import { covered, cutOff, onlyDragged, tooSmall } from './measure.ts';
import { press, test } from './theatre.ts';
import { tour } from './tour.ts';

const sizes = [
  { width: 1280, height: 800 },
  { width: 1024, height: 640 },
  { width: 1366, height: 1024 },
  { width: 800, height: 1280 },
  { width: 1920, height: 1080 },
] as const;

const mainScreens = [
  'start-empty',
  'opening',
  'sign-in',
  'time-out-dose',
  'operating',
  'wall',
  'specimen-label',
  'closing-refused',
  'closing-count',
  'discrepancy',
  'sign-out',
  'record',
];

/** Thumbnails side by side, all 64 pixels wide. */
const thumbnailWidth = 64;

/** Puts pictures of the page side by side, small and grey. Runs in a page of its own. */
async function sheetOf(page: Page, pictures: readonly Buffer[]): Promise<Buffer> {
  const bytes = await page.evaluate(
    async ({ texts, wide }) => {
      const load = async (text: string) => createImageBitmap(await (await fetch(text)).blob());
      const images = await Promise.all(texts.map((text) => load(`data:image/png;base64,${text}`)));
      const high = Math.max(...images.map((one) => Math.round((one.height / one.width) * wide)));
      const sheet = new OffscreenCanvas(wide * images.length, high);
      const context = sheet.getContext('2d');
      if (!context) throw new Error('This browser does not draw.');
      context.filter = 'grayscale(1)';
      context.imageSmoothingQuality = 'high';
      for (const [at, one] of images.entries())
        context.drawImage(one, at * wide, 0, wide, Math.round((one.height / one.width) * wide));
      const blob = await sheet.convertToBlob({ type: 'image/png' });
      return [...new Uint8Array(await blob.arrayBuffer())];
    },
    { texts: pictures.map((one) => one.toString('base64')), wide: thumbnailWidth },
  );
  return Buffer.from(bytes);
}

test.use({ contextOptions: { reducedMotion: 'reduce' } });

test('the main screens are whole in all sizes, and look as they did', async ({ page, browser }) => {
  test.setTimeout(600_000);
  const desk = await browser.newPage();
  const wrong: string[] = [];
  const screens: string[] = [];
  await page.goto('/');
  await tour(page, async (screen) => {
    await expect
      .soft(() => onlyDragged(page).then((found) => expect(found, screen).toEqual([])))
      .toPass({ timeout: 2000 });
    if (!mainScreens.includes(screen)) return;
    screens.push(screen);
    const pictures: Buffer[] = [];
    for (const size of sizes) {
      await page.setViewportSize(size);
      await page.waitForTimeout(250); // keys below a list come a frame after its size
      const found = [
        ...(await tooSmall(page)),
        ...(await cutOff(page)),
        ...(await covered(page)),
        ...(await onlyDragged(page)),
      ];
      wrong.push(...found.map((one) => `${screen}, ${size.width} × ${size.height}: ${one}`));
      pictures.push(await page.screenshot());
    }
    await page.setViewportSize(sizes[0]);
    expect
      .soft(await sheetOf(desk, pictures))
      .toMatchSnapshot(`${screen}.png`, { threshold: 0.3, maxDiffPixelRatio: 0.06 });
  });
  await desk.close();
  expect(screens).toEqual(mainScreens);
  expect(wrong).toEqual([]);
});

test('what lies under something else is found', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('button', { name: 'Start a case' })).toBeVisible();
  expect(await covered(page)).toEqual([]);
  await page.evaluate(() => {
    const over = document.createElement('div');
    over.style.cssText = 'position: fixed; inset: auto 0 0 50%; height: 200px; z-index: 9';
    document.body.append(over);
  });
  expect((await covered(page)).join()).toMatch(/"Start a case" lies under div/);
});

test('a list that only a finger could drag is found, and one with keys is not', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1024, height: 580 });
  await page.goto('/');
  await press(page, 'Start a case');
  await expect(page.getByRole('button', { name: 'More below' })).toBeVisible();
  expect(await onlyDragged(page)).toEqual([]);
  await page.evaluate(() => document.querySelector('.scroller-keys')?.remove());
  expect((await onlyDragged(page)).join()).toMatch(/^div\.scroller-view hides \d+ px$/);
});
