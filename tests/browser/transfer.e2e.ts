import { readFileSync } from 'node:fs';
import { type Browser, expect, type Page } from '@playwright/test';
import {
  countFirst,
  openTeachingCase,
  patient,
  signInShort,
  untilOperating,
} from './teachingCase.ts';
import { button, heading, press, starting, tapPiece, test, watch } from './theatre.ts';

const spine = (page: Page) => page.getByRole('navigation', { name: 'Stations of the case' });

/** The record of the open case as a person reads it. */
async function readRecord(page: Page): Promise<string> {
  await press(spine(page), starting('Record'));
  const record = page.getByRole('article');
  await expect(heading(record, 'Every entry, in order')).toBeVisible();
  return (await record.textContent()) ?? '';
}

async function takeOut(page: Page): Promise<string> {
  const saving = page.waitForEvent('download');
  await press(page, 'Take out as a file');
  const file = await saving;
  expect(file.suggestedFilename()).toMatch(/^lastlook-\d{4}-\d\d-\d\d-[0-9a-f]{8}\.txt$/);
  return readFileSync(await file.path(), 'utf8');
}

/** Brings a file in, and waits for the sentence that comes of it. */
async function bringIn(page: Page, text: string, sentence: string): Promise<void> {
  await page.getByLabel('Bring in a case').setInputFiles({
    name: 'from-another-tablet.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(text, 'utf8'),
  });
  await expect(page.getByRole('status')).toHaveText(sentence);
}

const whole = 'The case was brought in whole.';

/** Another tablet: nothing is known on it. */
async function otherTablet(browser: Browser, origin: string) {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
    locale: 'en-GB',
    timezoneId: 'Europe/London',
  });
  const wrong = watch(context, origin);
  const page = await context.newPage();
  await page.goto(origin);
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
  return { page, wrong, context };
}

async function someCase(page: Page): Promise<{ readonly record: string; readonly file: string }> {
  await page.goto('/');
  await openTeachingCase(page);
  await signInShort(page);
  await countFirst(page);
  await untilOperating(page);
  await tapPiece(page, 'Swab 10 × 10', 'on the table');
  return { record: await readRecord(page), file: await takeOut(page) };
}

test('a case that is brought in from a file is the same case, and goes on', async ({
  page,
  browser,
  baseURL,
}) => {
  const { record, file } = await someCase(page);
  const other = await otherTablet(browser, new URL(baseURL ?? '').origin);
  await bringIn(other.page, file, whole);
  await bringIn(other.page, file, 'This case is on the tablet already. Nothing was changed.');
  await press(other.page, starting(patient.name));
  await tapPiece(other.page, 'Swab 10 × 10', 'in the patient');
  await press(other.page, 'Take back');
  expect(await readRecord(other.page)).toContain('TESTCASE, Ash');
  expect(other.wrong).toEqual([]);
  await other.context.close();

  const third = await otherTablet(browser, new URL(baseURL ?? '').origin);
  await bringIn(third.page, file, whole);
  await press(third.page, starting(patient.name));
  expect(await readRecord(third.page)).toBe(record);
  // Its first line is signed by the tablet that hands it out; every row is the same.
  expect(rowsIn(await takeOut(third.page))).toEqual(rowsIn(file));
  expect(third.wrong).toEqual([]);
  await third.context.close();
});

const rowsIn = (file: string): readonly string[] => file.split('\n').slice(1);

/** One letter of a name is another one: the chain no longer holds. */
const damaged = (file: string): string => file.replace('TESTCASE, Ash', 'TESTCASE, Ask');

test('a damaged, a cut, a foreign and an empty file are refused, and nothing is changed', async ({
  page,
  browser,
  baseURL,
}) => {
  const { record, file } = await someCase(page);
  expect(damaged(file)).not.toBe(file);
  const other = await otherTablet(browser, new URL(baseURL ?? '').origin);
  const cut = file.split('\n').slice(0, 4).join('\n');
  const foreign = 'This file is not a record of a case written by this program.';
  for (const [text, sentence] of [
    [damaged(file), 'Row 1 was changed after it was written.'],
    [cut, 'This file is not complete: it ends before its last row.'],
    ['A letter to somebody else.\n', foreign],
    ['', foreign],
  ] as const) {
    await bringIn(other.page, text, sentence);
    await expect(heading(other.page, 'No case on this tablet yet')).toBeVisible();
    await other.page.reload();
    await expect(heading(other.page, 'No case on this tablet yet')).toBeVisible();
  }
  expect(other.wrong).toEqual([]);
  await other.context.close();

  await press(page, 'Back to the case');
  await expect(button(page, 'Add to field')).toBeVisible();
  expect(await readRecord(page)).toBe(record);
});
