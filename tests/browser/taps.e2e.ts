import { oneTapTouches } from './oneTap.ts';
import { test } from './theatre.ts';

test('one tap touches its row, the holds and the foot', async ({ page }) => {
  test.setTimeout(120_000);
  await page.clock.setFixedTime('2026-01-05T09:15:00Z');
  await page.goto('/');
  await oneTapTouches(page);
});
