/** What the tablet is to the program: installed, turned, left and come back to, low on battery. */
import { expect } from '@playwright/test';
import { openTeachingCase, signInShort } from './teachingCase.ts';
import { button, press, stepNow, tapNumber, test, understand, untilOffline } from './theatre.ts';

test('a tablet can install the program', async ({ page, context }) => {
  await page.goto('/');
  await untilOffline(page);
  const cdp = await context.newCDPSession(page);
  const { errors } = await cdp.send('Page.getAppManifest');
  expect(errors).toEqual([]);
  const { installabilityErrors } = await cdp.send('Page.getInstallabilityErrors');
  // A window of a test is private, where no browser installs anything.
  expect(installabilityErrors.map(({ errorId }) => errorId)).toEqual(['in-incognito']);
});

test('a count goes on where it was after the tablet is turned, left and come back to', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await openTeachingCase(page);
  await signInShort(page);
  await press(page, 'Begin the count');
  const asked = page.locator('section.count [aria-live="polite"]');
  const first = (await asked.textContent()) ?? '';
  await tapNumber(page, 5);
  await expect(asked).not.toHaveText(first); // it has gone on to the next line
  const line = await asked.textContent();
  await page.setViewportSize({ width: 800, height: 1280 });
  await page.evaluate(() => {
    for (const target of [window, document]) target.dispatchEvent(new Event('blur'));
    document.dispatchEvent(new Event('visibilitychange'));
    window.dispatchEvent(new Event('focus'));
  });
  await page.setViewportSize({ width: 1280, height: 800 });
  expect(await asked.textContent()).toBe(line);
  await tapNumber(page, 1);
  await expect(asked).not.toHaveText(line ?? '');
});

test('a battery that runs down is said over the case, and is no entry', async ({ page }) => {
  await page.addInitScript(() => {
    const battery = Object.assign(new EventTarget(), { charging: false, level: 1 });
    Object.assign(window, {
      drain: (level: number) => {
        battery.level = level;
        battery.dispatchEvent(new Event('levelchange'));
      },
    });
    Object.defineProperty(navigator, 'getBattery', { value: async () => battery });
  });
  await page.goto('/');
  await openTeachingCase(page);
  await page.evaluate('drain(0.18)');
  const said = page.getByText('The battery is at 20 % or less.');
  await expect(said).toBeVisible();
  await understand(page);
  await expect(said).toHaveCount(0);
  await press(page, 'Everyone stops: begin');
  await expect(stepNow(page)).toBeVisible();
  await page.evaluate('drain(0.09)');
  await expect(page.getByText('The battery is at 10 % or less.')).toBeVisible();
  await expect(button(page, 'Understood')).toBeVisible();
});
