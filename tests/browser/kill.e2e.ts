import { expect, type Page } from '@playwright/test';
import { switchOn, type Tablet } from './tablet.ts';
import {
  countFirst,
  onTheTable,
  opened,
  openTeachingCase,
  patient,
  signInShort,
  team,
  untilOperating,
} from './teachingCase.ts';
import {
  agreeCount,
  answer,
  button,
  counting,
  countLines,
  heading,
  holds,
  type Pass,
  press,
  shown,
  stepNow,
  stretch,
  tapNumber,
  tapPiece,
  test,
} from './theatre.ts';

const swab = 'Swab 10 × 10';

/** Kills the browser and switches the tablet on again: the same case must be there. */
async function again(tablet: Tablet, profile: string, origin: string): Promise<Tablet> {
  await tablet.kill();
  expect(tablet.wrong).toEqual([]);
  const next = await switchOn(profile, origin);
  await expect(next.page.getByRole('banner')).toContainText(patient.name);
  return next;
}

const counted = (page: Page, line: string) => counting(page).getByRole('button', { name: line });

test('killed in a checkpoint, in a count and while operating, the case goes on where it was', async ({
  baseURL,
}, testInfo) => {
  test.setTimeout(120_000);
  const origin = new URL(baseURL ?? '').origin;
  const profile = testInfo.outputPath('profile');
  let tablet = await switchOn(profile, origin);

  await openTeachingCase(tablet.page);
  await press(tablet.page, 'Everyone stops: begin');
  await answer(tablet.page, 'say your name', 'Yes, said aloud');
  tablet = await again(tablet, profile, origin);
  await expect(stepNow(tablet.page)).toContainText('Is any allergy known');
  await expect(button(tablet.page, /Patient says who and what.*Yes/)).toBeVisible();
  await answer(tablet.page, 'Is any allergy known', 'None known');
  await press(tablet.page, 'Sign in finished');

  await press(tablet.page, 'Begin the count');
  await tapNumber(tablet.page, 5);
  await expect(counted(tablet.page, swab)).toContainText('5');
  await tapNumber(tablet.page, 1);
  await expect(counted(tablet.page, 'Cannula 12 mm')).toContainText('1');
  tablet = await again(tablet, profile, origin);
  await expect(counted(tablet.page, swab)).toContainText('5');
  await expect(counted(tablet.page, 'Cannula 12 mm')).toContainText('1');
  const rest = await countLines(tablet.page, onTheTable);
  expect(rest).toEqual(['Seal 12 mm/field', 'Grasper/field']);
  await agreeCount(tablet.page, team);

  await untilOperating(tablet.page);
  await tapPiece(tablet.page, swab, 'on the table');
  await tapPiece(tablet.page, swab, 'on the table');
  tablet = await again(tablet, profile, origin);
  await expect(heading(tablet.page, 'Counting frame')).toBeAttached();
  expect(await shown(tablet.page, swab, 'on the table')).toBe(3);
  expect(await shown(tablet.page, swab, 'in the patient')).toBe(2);
  await expect(holds(tablet.page)).toContainText(`2 ${swab}`);
  await tapPiece(tablet.page, swab, 'in the patient');
  expect(await shown(tablet.page, swab, 'off the field')).toBe(1);

  await press(tablet.page, 'Towards closing');
  await press(tablet.page, 'Begin the closing count');
  const lie: Readonly<Record<Pass, Readonly<Record<string, number>>>> = {
    field: { ...opened, [swab]: 3 },
    off: { [swab]: 1 },
  };
  await countLines(tablet.page, (line, pass) => lie[pass][line] ?? 0);
  tablet = await again(tablet, profile, origin);
  await expect(tablet.page.getByText('Every line has a number.')).toBeVisible();
  await expect(counted(tablet.page, `${swab} Off the field`)).toContainText('1');
  await agreeCount(tablet.page, team);
  await expect(heading(tablet.page, 'Count again')).toBeVisible(); // one swab is inside
  expect(tablet.wrong).toEqual([]);
  await tablet.context.close();
});

test('killed in the very moment of a tap, an entry is whole or not there', async ({
  baseURL,
}, testInfo) => {
  test.setTimeout(120_000);
  const origin = new URL(baseURL ?? '').origin;
  const profile = testInfo.outputPath('profile');
  let tablet = await switchOn(profile, origin);
  await openTeachingCase(tablet.page);
  await signInShort(tablet.page);
  await countFirst(tablet.page);
  await untilOperating(tablet.page);
  let inside = 0;
  for (const waitMs of [0, 4, 12]) {
    await stretch(tablet.page, swab, 'on the table').tap({ noWaitAfter: true });
    await new Promise((resolve) => setTimeout(resolve, waitMs));
    tablet = await again(tablet, profile, origin);
    const now = await shown(tablet.page, swab, 'in the patient');
    expect([inside, inside + 1]).toContain(now);
    expect(await shown(tablet.page, swab, 'on the table')).toBe(5 - now);
    inside = now;
  }
  await tapPiece(tablet.page, swab, 'on the table');
  expect(await shown(tablet.page, swab, 'in the patient')).toBe(inside + 1);
  await tablet.context.close();
});
