/** A case whose specimen waits in its pot for the label. */
import { expect, type Page } from '@playwright/test';
import type { CaseEvent } from '#engine/case/events.ts';
import { eventsOfDrills, exported } from '../support/records.ts';
import { heading, press } from './theatre.ts';

/** Worked case F1 up to where the appendix is in its pot, with a patient of this name. */
export async function inItsPot(name: string, number: string) {
  const [events = []] = eventsOfDrills('f01-three-loops.yaml');
  const until = events.findIndex((event) => event.type === 'specimenContained');
  const named = events
    .slice(0, until + 1)
    .map(
      (event): CaseEvent =>
        event.type === 'opened'
          ? { ...event, caseId: `label-${number}`, patient: { ...event.patient, name, number } }
          : event,
    );
  return exported(named);
}

/** Brings that case in and opens it. */
export async function openAtLabel(page: Page, name: string, number: string) {
  const { text, record } = await inItsPot(name, number);
  await page.goto('/');
  await page.getByLabel('Bring in a case').setInputFiles({
    name: 'case.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(text, 'utf8'),
  });
  await expect(page.getByRole('status')).toHaveText('The case was brought in whole.');
  await press(page, new RegExp(number));
  await expect(heading(page, 'Counting frame')).toBeAttached();
  return record;
}
