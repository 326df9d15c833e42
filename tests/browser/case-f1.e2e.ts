import { expect } from '@playwright/test';
import { caseF1 } from './caseF1.ts';
import { button, press, test, untilOffline } from './theatre.ts';
import { makeWorld } from './world.ts';

test('worked case F1, on the tablet: nothing open at any gate', async ({ page }) => {
  test.setTimeout(600_000);
  await page.clock.setSystemTime('2026-01-05T09:15:00Z');
  await page.goto('/');
  await untilOffline(page);
  const world = makeWorld();
  for (const { name, play } of caseF1) await test.step(name, () => play(page, world));
  await press(page, 'All cases');
  await expect(button(page, /Aardvark Q. PLACEHOLDER.*Reconciled/)).toBeVisible();
});
