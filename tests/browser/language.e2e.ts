import { expect } from '@playwright/test';
import { cutOff } from './measure.ts';
import { button, press, test } from './theatre.ts';

test('German is chosen once, and is spoken with the network cut and after a new start', async ({
  page,
  context,
}) => {
  await page.goto('/');
  await expect(button(page, 'Start a case')).toBeVisible();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload(); // from here on the worker has every file
  await context.setOffline(true);
  await press(page, 'English (UK)');
  await press(page, 'Deutsch');
  await expect(button(page, 'Fall beginnen')).toBeVisible();
  await expect(page.locator('html')).toHaveAttribute('lang', 'de');
  await page.reload();
  await expect(button(page, 'Fall beginnen')).toBeVisible();
  await press(page, 'Fall beginnen');
  await expect(button(page, /^Laparoskopische Appendektomie/)).toBeVisible();
  for (const [width, height] of [
    [1280, 800],
    [1024, 640],
    [800, 1280],
  ] as const) {
    await page.setViewportSize({ width, height });
    expect(await cutOff(page), `${width} × ${height}`).toEqual([]);
  }
});
