import { caseF2 } from './caseF2.ts';
import { catchPrinting } from './printing.ts';
import { test, untilOffline } from './theatre.ts';
import { makeWorld } from './world.ts';

test('worked case F2, network cut, in another browser: one refusal, then nothing open', async ({
  page,
  context,
}) => {
  test.setTimeout(900_000); // every tap goes through the bridge: some minutes on a busy machine
  await catchPrinting(page);
  await page.clock.setSystemTime('2026-01-05T09:15:00Z');
  await page.goto('/');
  await untilOffline(page);
  await context.setOffline(true);
  await page.reload();
  const world = makeWorld();
  for (const { name, play } of caseF2) await test.step(name, () => play(page, world));
});
