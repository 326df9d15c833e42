/**
 * What wet gloves do that is no tap: a finger that slides off, several at once, one that rests, one that came down
 * elsewhere. None of it enters anything; a tap is what goes down and up again on one thing.
 */
import { type CDPSession, expect, type Page } from '@playwright/test';
import { countFirst, openTeachingCase, signInShort, untilOperating } from './teachingCase.ts';
import { foot, shown, stretch, test } from './theatre.ts';

const swab = 'Swab 10 × 10';

type Point = { readonly x: number; readonly y: number };

async function middleOf(page: Page, line: string, place: string): Promise<Point> {
  const box = await stretch(page, line, place).boundingBox();
  if (!box) throw new Error(`${line} is not on the screen.`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

type Kind = 'touchStart' | 'touchMove' | 'touchEnd';

/** Fingers as the glass tells them: each with a place and a size. */
const touch = (
  cdp: CDPSession,
  type: Kind,
  points: readonly Point[],
  radius = 9,
): Promise<unknown> =>
  cdp.send('Input.dispatchTouchEvent', {
    type,
    touchPoints: points.map((point, id) => ({ ...point, radiusX: radius, radiusY: radius, id })),
  });

async function slide(cdp: CDPSession, from: Point, to: Point): Promise<void> {
  await touch(cdp, 'touchStart', [from]);
  for (let part = 1; part <= 8; part += 1) {
    const along = (one: number, other: number) => one + ((other - one) * part) / 8;
    await touch(cdp, 'touchMove', [{ x: along(from.x, to.x), y: along(from.y, to.y) }]);
  }
  await touch(cdp, 'touchEnd', []);
}

test('slides, several fingers and a resting finger enter nothing', async ({ page, context }) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await openTeachingCase(page);
  await signInShort(page);
  await countFirst(page);
  await untilOperating(page);
  const cdp = await context.newCDPSession(page);
  const last = foot(page).getByRole('status');
  const entry = await last.getAttribute('data-entry');
  const table = await middleOf(page, swab, 'on the table');
  const inside = await middleOf(page, swab, 'in the patient');
  const other = await middleOf(page, 'Cannula 12 mm', 'on the table');
  const before = await shown(page, swab, 'on the table');
  const isUnchanged = async (): Promise<void> => {
    await page.waitForTimeout(250);
    expect(await last.getAttribute('data-entry')).toBe(entry);
    expect(await shown(page, swab, 'on the table')).toBe(before);
  };

  await test.step('a finger that slides off, to the side and down', async () => {
    await slide(cdp, table, inside);
    await slide(cdp, table, { x: table.x, y: table.y + 200 });
    await isUnchanged();
  });
  await test.step('a finger that came down elsewhere and slides on', async () => {
    await slide(cdp, { x: table.x, y: table.y + 200 }, table);
    await isUnchanged();
  });
  await test.step('a palm: three points at once, two of them on wires', async () => {
    await touch(cdp, 'touchStart', [table, other, { x: table.x + 60, y: table.y + 300 }], 34);
    await touch(cdp, 'touchEnd', []);
    await isUnchanged();
  });
  await test.step('two fingers on one wire', async () => {
    await touch(cdp, 'touchStart', [table, inside]);
    await touch(cdp, 'touchEnd', []);
    await isUnchanged();
  });
  await test.step('a finger that rests on the glass for two seconds', async () => {
    await touch(cdp, 'touchStart', [table]);
    await page.waitForTimeout(2000);
    await touch(cdp, 'touchEnd', []);
    await isUnchanged();
    expect(await page.evaluate(() => String(getSelection()))).toBe('');
  });
  await test.step('a touch that the system takes away', async () => {
    await touch(cdp, 'touchStart', [table]);
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchCancel', touchPoints: [] });
    await isUnchanged();
  });
  await test.step('one tap, to see that the glass was not dead', async () => {
    await touch(cdp, 'touchStart', [table]);
    await touch(cdp, 'touchEnd', []);
    await expect(last).not.toHaveAttribute('data-entry', entry ?? '');
    expect(await shown(page, swab, 'on the table')).toBe(before - 1);
  });
});

test('at 200 % a finger that slides over the wires turns the page, and enters nothing', async ({
  page,
  context,
}) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await openTeachingCase(page);
  await signInShort(page);
  await countFirst(page);
  await untilOperating(page);
  await page.setViewportSize({ width: 400, height: 640 });
  const cdp = await context.newCDPSession(page);
  const entry = await foot(page).getByRole('status').getAttribute('data-entry');
  await stretch(page, swab, 'on the table').evaluate((one) => one.scrollIntoView());
  const top = await page.evaluate(() => scrollY);
  const table = await middleOf(page, swab, 'on the table');
  await slide(cdp, table, { x: table.x, y: table.y + 160 });
  await expect.poll(() => page.evaluate(() => scrollY)).toBeLessThan(top);
  await page.waitForTimeout(250);
  expect(await foot(page).getByRole('status').getAttribute('data-entry')).toBe(entry);
});
