import { readFileSync } from 'node:fs';
import { expect, type Page } from '@playwright/test';
import { converted, type Wish } from '#record/converted.ts';
import { eventsOfDrills, exported } from '../support/records.ts';
import { paperOf } from './paper.ts';
import { heading, press, test } from './theatre.ts';

const css = readFileSync('src/record/record.css', 'utf8');

/** A finished case of the drills, brought in as a file, with its record on the screen. */
async function openRecord(page: Page, file: string) {
  const { text, record } = await exported(eventsOfDrills(file)[0] ?? []);
  await page.goto('/');
  await page.getByLabel('Bring in a case').setInputFiles({
    name: 'case.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(text, 'utf8'),
  });
  await expect(page.getByRole('status')).toHaveText('The case was brought in whole.');
  await press(page, new RegExp(record.current.patient.number));
  await expect(heading(page, 'Every entry, in order')).toBeVisible();
  return record;
}

for (const [format, width, height] of [
  ['A4', 595.3, 841.9],
  ['Letter', 612, 792],
] as const)
  test(`the record of worked case F2 prints on ${format}: one page to read, then everything`, async ({
    page,
  }) => {
    const record = await openRecord(page, 'f02-braided-ties.yaml');
    const paper = paperOf(await page.pdf({ format }));
    expect(Math.abs(paper.size.width - width)).toBeLessThan(1);
    expect(Math.abs(paper.size.height - height)).toBeLessThan(1);
    const pages = paper.text.split('\f').slice(0, -1);
    expect(pages).toHaveLength(paper.pages);
    for (const [place, text] of pages.entries()) {
      expect(text).toContain(`Page ${place + 1} of ${paper.pages}`);
      expect(text).toContain(`${record.current.patient.name}, ${record.current.patient.number}`);
      expect(text).toContain(record.code);
    }
    const [first = '', second = '', ...rest] = pages;
    for (const part of [
      'Reconciled: nothing was open that the record knows of.',
      'drainage after perforation',
      'Cut tail of a tie',
      'The case in time',
      'it never says that it is safe to close',
    ])
      expect(first.replace(/\s+/g, ' ')).toContain(part);
    expect(first).not.toContain('Where every piece is');
    expect(second).toContain('Where every piece is');
    for (const text of rest) expect(text).toMatch(/No\.\s+Time\s+What\s+Entered by/);
    expect(pages.at(-1)?.replace(/\s+/g, '')).toContain(record.head);
  });

test('the hand-over note is one page of its own', async ({ page }) => {
  await openRecord(page, 'f09-packs-left-by-intent.yaml');
  await press(page, 'Hand-over note');
  await expect(heading(page, 'Must come out')).toBeVisible();
  const paper = paperOf(await page.pdf({ format: 'A4' }));
  expect(paper.pages).toBe(1);
  expect(paper.text).toContain('6 packs, liver 4 and pelvis 2, out in 24 to 48 h');
  expect(paper.text).not.toContain('Every entry, in order');
});

const wishes: readonly (readonly [RegExp, Wish])[] = [
  [/^A page/, { form: 'html' }],
  [/^All of it as data/, { form: 'json' }],
  [/^For another system/, { form: 'fhir' }],
  [/^All tables/, { form: 'csv' }],
  [/^Table of specimens/, { form: 'csv', only: 'specimens' }],
];

for (const [name, wish] of wishes)
  test(`taken out as ${wish.form}${wish.only ?? ''}, byte for byte what the command line gives, and noted`, async ({
    page,
  }) => {
    const record = await openRecord(page, 'f01-three-loops.yaml');
    const saving = page.waitForEvent('download');
    await press(page, 'Other forms…');
    await press(page.getByRole('dialog'), name);
    const wanted = converted(record, wish, css);
    expect(readFileSync(await (await saving).path(), 'utf8')).toBe(wanted.text);
    await expect(page.getByText(`up to entry ${record.current.entry}, chain code`)).toBeVisible();
  });
