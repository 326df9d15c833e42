/** What the first load weighs, and that nothing on the first screen moves once it stands. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect } from '@playwright/test';
import { heading, test } from './theatre.ts';

const built = join(import.meta.dirname, '..', '..', 'dist');

/** Bytes after gzip. Goal of the project: what a slow network in a cellar brings in a second or two. */
const scriptsMost = 60_000;

test('the first load brings at most 60 kB of script', () => {
  const page = readFileSync(join(built, 'index.html'), 'utf8');
  // The entry, and what it imports before it runs, which the build asks the browser to fetch at once.
  const scripts = [...page.matchAll(/(?:src|href)="\/(assets\/[^"]+\.js)"/g)].map(
    ([, name]) => name,
  );
  expect(scripts.length).toBeGreaterThan(0);
  const sizes = scripts.map((name) => gzipSync(readFileSync(join(built, name ?? ''))).length);
  expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThanOrEqual(scriptsMost);
});

test('nothing on the first screen moves once it stands', async ({ page }) => {
  await page.addInitScript(() => {
    const shifts: string[] = [];
    Object.assign(window, { shifts });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) shifts.push(JSON.stringify(entry));
    }).observe({ type: 'layout-shift', buffered: true });
  });
  const isStanding = async () => {
    await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
    await expect(heading(page, 'Practice')).toBeVisible();
    await page.waitForTimeout(500); // a shift is told a frame or two after it happened
  };
  await page.goto('/');
  await isStanding();
  expect(await page.evaluate('shifts')).toEqual([]);
  await page.reload();
  await isStanding();
  expect(await page.evaluate('shifts')).toEqual([]);
});

test('a tablet whose database does not answer says what it waits for, and then begins', async ({
  page,
}) => {
  await page.addInitScript(() => {
    Object.defineProperty(IDBFactory.prototype, 'open', { value: () => new EventTarget() });
  });
  await page.goto('/');
  const waiting = heading(page, 'Opening the record of this tablet');
  await expect(waiting).toBeInViewport();
  await expect(page.getByText('count on paper')).toBeInViewport();
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible({ timeout: 60_000 });
  await expect(waiting).toBeHidden();
  await expect(page.getByText('Only one copy of the record is kept')).toBeVisible();
});
