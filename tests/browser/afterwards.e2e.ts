import { expect, type Page } from '@playwright/test';
import { eventsOfDrills, exported } from '../support/records.ts';
import { paperOf } from './paper.ts';
import { button, dialog, heading, press, test, type } from './theatre.ts';

/** Two finished cases on one tablet: one that left packs, one that sent two specimens and left a drain. */
async function twoCases(page: Page): Promise<void> {
  await page.goto('/');
  for (const [file, id] of [
    ['f02-braided-ties.yaml', 'f02'],
    ['f09-packs-left-by-intent.yaml', 'f09'],
  ] as const) {
    const [events = []] = eventsOfDrills(file);
    const named = events.map((event) =>
      event.type === 'opened' ? { ...event, caseId: id } : event,
    );
    const { text } = await exported(named);
    await page.getByLabel('Bring in a case').setInputFiles({
      name: `${id}.txt`,
      mimeType: 'text/plain',
      buffer: Buffer.from(text, 'utf8'),
    });
    await expect(page.getByRole('status')).toHaveText('The case was brought in whole.');
  }
}

test('results not seen and packs left stay on a list until it is said who saw them, and who took them out', async ({
  page,
}) => {
  await twoCases(page);
  await press(page, 'Owed afterwards: 4');
  const rows = page.locator('table.owed').first().locator('tbody tr');
  await expect(rows).toHaveCount(4);
  await expect(rows.first()).toContainText('Must come out: 6 Large swab 45 × 45, liver, pelvis');

  await press(rows.filter({ hasText: 'A Appendix' }), 'Result seen…');
  await type(dialog(page), 'Seen by', 'Ensayo');
  await type(dialog(page), 'What it says, and what follows', 'appendicitis, nothing follows');
  await press(dialog(page), 'The result was seen');
  await expect(rows).toHaveCount(3);

  await press(rows.first(), 'Taken out…');
  await press(dialog(page), 'Pieces taken out: one less');
  await type(dialog(page), 'Taken out by', 'Nuovo');
  await type(dialog(page), 'How, and where', 'second look, counted by two');
  await press(dialog(page), '5 taken out and counted');
  await expect(rows.filter({ hasText: 'Must come out: 1 Large swab' })).toHaveCount(1);

  const paper = paperOf(await page.pdf({ format: 'A4' }));
  expect(paper.pages).toBe(1);
  expect(paper.text).toContain('Must come out: 1 Large swab');
  expect(paper.text).not.toContain('Taken out…');

  await page.reload();
  await expect(heading(page, 'Owed afterwards')).toBeVisible();
  await expect(rows).toHaveCount(3);
  await press(page, 'Back');
  await press(page, /Bumblebee R. NOBODY/);
  await expect(
    page.getByText('Result seen for A Appendix by Ensayo: appendicitis, nothing follows'),
  ).toBeVisible();
  await expect(button(page, 'Print')).toBeVisible();
});

test('what was settled by mistake is owed again, and both notes stay in the record', async ({
  page,
}) => {
  await twoCases(page);
  await press(page, 'Owed afterwards: 4');
  const owed = page.locator('table.owed').first().locator('tbody tr');
  const settled = page
    .locator('section')
    .filter({ has: heading(page, 'Settled') })
    .locator('tbody tr');
  await press(owed.filter({ hasText: 'A Appendix' }), 'Result seen…');
  await type(dialog(page), 'Seen by', 'Ensayo');
  await type(dialog(page), 'What it says, and what follows', 'appendicitis, nothing follows');
  await press(dialog(page), 'The result was seen');
  await press(owed.first(), 'Taken out…');
  await type(dialog(page), 'Taken out by', 'Nuovo');
  await type(dialog(page), 'How, and where', 'second look');
  await press(dialog(page), '6 taken out and counted');
  await expect(owed).toHaveCount(2);
  await expect(settled).toHaveCount(2);

  await press(settled.filter({ hasText: 'A Appendix' }), 'Not so…');
  await type(dialog(page), 'Who says so', 'Testa');
  await type(dialog(page), 'Why it was not so', 'it was of another patient');
  await press(dialog(page), 'The result was not seen');
  await expect(owed).toHaveCount(3);
  await press(settled.filter({ hasText: 'Large swab' }), 'Not so…');
  await press(dialog(page), 'Pieces that are still there: one less');
  await type(dialog(page), 'Who says so', 'Testa');
  await type(dialog(page), 'Why it was not so', 'one came out, five are still there');
  await press(dialog(page), '5 not taken out');
  await expect(owed).toHaveCount(4);
  await expect(owed.first()).toContainText('Must come out: 5 Large swab');
  await expect(settled).toHaveCount(1);

  await press(page, 'Back');
  await press(page, /Bumblebee R. NOBODY/);
  for (const words of [
    'Result seen for A Appendix by Ensayo: appendicitis, nothing follows',
    'Result not seen for A Appendix: it was of another patient (Testa)',
  ])
    await expect(page.getByText(words)).toBeVisible();
});

test('a film that was put off is owed first, and is read for that patient when it is there', async ({
  page,
}) => {
  await page.goto('/');
  const [events = []] = eventsOfDrills('failures/e101-film-declined.yaml');
  const { text } = await exported(events);
  await page.getByLabel('Bring in a case').setInputFiles({
    name: 'e101.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(text, 'utf8'),
  });
  await press(page, 'Owed afterwards: 1');
  const owed = page.locator('table.owed tbody tr');
  await expect(owed).toContainText('X-ray not read: whole field');
  await press(owed, 'Film read…');
  await type(dialog(page), 'Read by', 'Lettura');
  await press(dialog(page), 'The whole field');
  await press(dialog(page), 'Nothing seen');
  await press(dialog(page), 'Film read');
  await expect(page.getByText('Nothing that this tablet knows of.')).toBeVisible();
  await press(page, 'Back');
  await press(page, /Not reconciled|Reconciled/);
  await expect(page.getByText('read by Lettura: nothing seen, whole field').first()).toBeVisible();

  await press(page, 'Settle it late…');
  await expect(heading(page, 'The case has ended.')).toBeVisible();
  await press(page, 'One found, off the field');
  await expect(button(page, 'One found, off the field')).toHaveCount(0);
  await press(page, 'Record');
  await expect(button(page, 'Print')).toBeVisible();
  await expect(button(page, 'Settle it late…')).toHaveCount(0);
});
