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
  const rows = page.locator('table.owed tbody tr');
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
