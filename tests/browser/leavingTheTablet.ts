/** What leaves the tablet at the end of a case, followed to where it is read: files, paper, labels. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, type Page } from '@playwright/test';
import { check } from '../fhir/check.ts';
import { foundByOthers } from '../fhir/validators.ts';
import { paperOf, print, read } from './paper.ts';
import { afterPrinting, printLabel } from './printing.ts';
import { dialog, heading, press } from './theatre.ts';

/** Prints the label of the pot that waits for one, and reads it with two readers of other makes. */
export async function printedAndRead(page: Page): Promise<string> {
  const code = await printLabel(page, '50.8 × 25.4 mm');
  const paper = await print(page);
  const [picture] = paper.pictures(203);
  if (!picture) throw new Error('the label is a page');
  expect(await read(picture)).toEqual({ zxing: [code], zbar: [code] });
  await afterPrinting(page);
  return code;
}

/** The commands of this repository, as somebody at a desk types them. */
const run = (...words: readonly string[]): string =>
  execFileSync('npm', ['run', '-s', ...words], { encoding: 'utf8' });

async function saved(page: Page, press_: () => Promise<void>): Promise<string> {
  const saving = page.waitForEvent('download');
  await press_();
  return (await saving).path();
}

/**
 * The closed case on paper, and as a file: the file is whole and ends where the paper says; as FHIR it is the same from
 * the tablet and from the command line, and three checkers find nothing.
 */
export async function leftBehind(
  page: Page,
  { patient, labels }: { readonly patient: RegExp; readonly labels: readonly string[] },
): Promise<void> {
  await press(page, patient);
  await expect(heading(page, 'Every entry, in order')).toBeVisible();
  const code = await onPaper(page, labels);
  const file = await saved(page, () => press(page, 'Take out as a file'));
  const said = run('verify', '--', file, '--code', code);
  expect(said).toContain(': whole.');
  expect(said).toContain('Verdict: reconciled.');

  const fhir = await saved(page, async () => {
    await press(page, 'Other forms…');
    await press(dialog(page), /^For another system/);
  });
  const text = readFileSync(fhir, 'utf8');
  expect(run('record', '--', file, '--to', 'fhir')).toBe(text);
  const bundle = JSON.parse(text) as Parameters<typeof check>[0]; // what it is, is what is checked
  expect(check(bundle)).toEqual([]);
  expect(foundByOthers(bundle)).toEqual([]);
}

/** The record as it lies before a surgeon, and the note for recovery; answers with the code at its foot. */
async function onPaper(page: Page, labels: readonly string[]): Promise<string> {
  const paper = paperOf(await page.pdf({ format: 'A4' }));
  const [first = ''] = paper.text.split('\f');
  expect(first).toContain('Reconciled');
  for (const label of labels) expect(paper.text.replace(/\s+/g, '')).toContain(label);
  const [, code = ''] = /· ([A-Z0-9]{4}-[A-Z0-9]{4})/.exec(first) ?? [];
  const { PICTURES } = process.env;
  if (PICTURES) paper.keep(`${PICTURES}/f2-record`, 110);
  await press(page, 'Hand-over note');
  await expect(heading(page, 'Must come out')).toBeVisible();
  const note = paperOf(await page.pdf({ format: 'A4' }));
  expect(note.pages).toBe(1);
  expect(note.text).toContain(code);
  if (PICTURES) note.keep(`${PICTURES}/f2-note`, 110);
  return code;
}
