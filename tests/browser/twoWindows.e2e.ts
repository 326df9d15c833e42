import { readFileSync } from 'node:fs';
import { expect, type Page } from '@playwright/test';
import { verifyFile } from '#session/verifyFile.ts';
import {
  countFirst,
  openTeachingCase,
  patient,
  signInShort,
  untilOperating,
} from './teachingCase.ts';
import { button, press, shown, starting, stretch, tapPiece, test } from './theatre.ts';

const swab = 'Swab 10 × 10';
const spine = (page: Page) => page.getByRole('navigation', { name: 'Stations of the case' });
const follows = (page: Page) => page.getByText('This window follows.');
const inside = (page: Page) => shown(page, swab, 'in the patient');

/** The epoch of each entry of the case, as it is taken out. */
async function epochs(page: Page): Promise<readonly number[]> {
  await press(spine(page), starting('Record'));
  const saving = page.waitForEvent('download');
  await press(page, 'Take out as a file');
  const bytes = readFileSync(await (await saving).path());
  expect(await verifyFile(bytes)).toMatchObject({ state: 'whole' });
  await press(page, 'Back to the case');
  const rows = bytes.toString('utf8').trim().split('\n').slice(1);
  return rows.map((row) => Number(JSON.parse(row).epoch));
}

test('a second window follows live, takes the writing over, and the first one is told and writes no more', async ({
  page: first,
  context,
}) => {
  test.setTimeout(120_000);
  await first.goto('/');
  await openTeachingCase(first);
  await signInShort(first);
  await countFirst(first);
  await untilOperating(first);
  await tapPiece(first, swab, 'on the table');

  const second = await context.newPage();
  await second.goto('/');
  if (await button(second, new RegExp(patient.number)).isVisible())
    await press(second, new RegExp(patient.number));
  await expect(follows(second)).toBeVisible();
  await expect.poll(() => inside(second)).toBe(1);
  await expect(stretch(second, swab, 'on the table')).toBeDisabled();
  await tapPiece(first, swab, 'on the table');
  await expect.poll(() => inside(second)).toBe(2);
  await expect(follows(first)).toHaveCount(0);

  await press(second, 'Write here');
  await expect(follows(second)).toHaveCount(0);
  await expect(follows(first)).toBeVisible();
  await tapPiece(second, swab, 'on the table');
  expect(await inside(second)).toBe(3);
  await expect.poll(() => inside(first)).toBe(3);
  await expect(stretch(first, swab, 'on the table')).toBeDisabled();

  await press(first, 'Write here');
  await expect(follows(second)).toBeVisible();
  await tapPiece(first, swab, 'in the patient');
  expect(await inside(first)).toBe(2);
  await expect.poll(() => inside(second)).toBe(2);

  const written = await epochs(first);
  expect(written.slice(-4)).toEqual([1, 1, 2, 3]);
  expect(await inside(first)).toBe(2);
});
