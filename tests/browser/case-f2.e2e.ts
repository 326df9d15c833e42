import { caseF2 } from './caseF2.ts';
import { leftBehind, printedAndRead } from './leavingTheTablet.ts';
import { catchPrinting } from './printing.ts';
import { test, untilOffline } from './theatre.ts';
import { makeWorld } from './world.ts';

test('worked case F2, network cut: one refusal, then nothing open; others read what leaves the tablet', async ({
  page,
  context,
}) => {
  test.setTimeout(300_000);
  await catchPrinting(page);
  await page.clock.setSystemTime('2026-01-05T09:15:00Z');
  await page.goto('/');
  await untilOffline(page);
  await context.setOffline(true);
  await page.reload();
  const labels: string[] = [];
  const world = makeWorld(async (at) => {
    labels.push(await printedAndRead(at));
  });
  for (const { name, play } of caseF2) await test.step(name, () => play(page, world));
  await test.step('what leaves the tablet', () =>
    leftBehind(page, { patient: /Bumblebee R. NOBODY.*Reconciled/, labels }));
});
