import { expect } from '@playwright/test';
import { coach, play, type Say } from './practiceCase.ts';
import { button, heading, press, starting, test } from './theatre.ts';

const whatLiesThere: Say = (_, __, lies) => lies;

/** Three swabs were on the table before one slid in: the number that the record expects. */
const whatIsRemembered: Say = (line, part, lies) =>
  line.startsWith('Swab') && part === 'field' && lies === 2 ? 3 : lies;

test('practice case 1, counted as it lies: the swab is found, and all is said at the end', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
  await play(page, { say: whatLiesThere, isFound: true });
  await expect(heading(page, 'You caught it all.')).toBeVisible();
  await expect(page.getByText('The swab that nobody saw go in was found')).toBeVisible();
  await expect(page.getByText('At every count you said what lay there.')).toBeVisible();
  await expect(heading(page, 'Missed')).toHaveCount(0);

  await press(page, 'Read the record');
  await expect(page.getByText('PRACTICE, not a patient').first()).toBeVisible();
  await press(page, 'All cases');
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible(); // practice is no case of a patient
  await expect(heading(page, 'Practice cases on this tablet')).toBeVisible();
  await press(page, 'Remove');
  await press(page, 'Remove it for good');
  await expect(heading(page, 'Practice cases on this tablet')).toHaveCount(0);
  await page.reload();
  await expect(coach(page)).toBeVisible();
  await expect(heading(page, 'Practice cases on this tablet')).toHaveCount(0);
});

test('practice case 1, counted by heart: the swab stays inside, and that is said', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await play(page, { say: whatIsRemembered, isFound: false });
  await expect(heading(page, 'Not all of it was caught.')).toBeVisible();
  const missed = page.locator('.findings[data-tone="missed"]');
  await expect(missed).toContainText('A swab was left in the patient.');
  await expect(missed).toContainText('It lay behind the bowel.');
  await expect(missed).toContainText(
    'At the closing count you said 5 of Swab 10 × 10; 4 lay there.',
  );
  await expect(missed).toContainText('At the final count you said 5');
  await press(page, 'Back to the start');
  await expect(button(page, starting('Practice · TESTCASE, Ash'))).toBeVisible();
  await expect(coach(page)).toBeVisible();
});
