import { caseF5 } from './caseF5.ts';
import { test, untilOffline } from './theatre.ts';
import { makeWorld } from './world.ts';

test('worked case F5, on the tablet: three sites, one protector inside, found before the sheath', async ({
  page,
}) => {
  test.setTimeout(600_000);
  await page.clock.setSystemTime('2026-01-05T09:15:00Z');
  await page.goto('/');
  await untilOffline(page);
  const world = makeWorld();
  for (const { name, play } of caseF5) await test.step(name, () => play(page, world));
});
