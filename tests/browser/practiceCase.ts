/**
 * Practice case 1 as a person goes through it: what is counted is what is drawn above the tablet, unless somebody
 * taps what they remember. `look` is called at each screen that is of the practice, by its name.
 */
import { expect, type Locator, type Page } from '@playwright/test';
import {
  agreeCount,
  answer,
  choose,
  countLines,
  dialog,
  foot,
  heading,
  press,
  starting,
  type Team,
  tapNumber,
  tapPiece,
} from './theatre.ts';

export const team: Team = {
  scrub: 'A. Testa',
  circulator: 'M. Prueba',
  surgeon: 'R. Ensayo',
  anaesthetist: 'K. Probe',
};

export type Look = (screen: string) => Promise<void>;

/** What the two people say of a line in front of them: what lies there, or what they remember. */
export type Say = (line: string, part: string, lies: number) => number;

const swab = 'Swab 10 × 10';
const spine = (page: Page) => page.getByRole('navigation', { name: 'Stations of the case' });

export const coach = (page: Page): Locator =>
  page.getByRole('region', { name: 'Practice', exact: true });

/** How many pieces are drawn. They stand nowhere as a number. */
async function drawn(page: Page): Promise<number> {
  await expect(coach(page).locator('figure')).toBeVisible();
  return coach(page).locator('figure li').count();
}

export async function begin(page: Page, name: string | RegExp): Promise<void> {
  await coach(page).getByRole('button', { name }).tap();
  await expect(page.getByRole('banner')).toContainText('Practice case');
  await expect(coach(page).getByRole('status')).not.toBeEmpty();
}

/** A whole count of what is drawn. */
async function count(page: Page, say: Say, look?: Look): Promise<void> {
  let said = 0;
  await countLines(
    page,
    () => said,
    async (line, part) => {
      const where = part === 'off' ? 'off the field' : 'field and table';
      await expect(coach(page).locator('figcaption')).toHaveText(`${line}, ${where}`);
      said = say(line, part, await drawn(page));
      if (line === swab) await look?.(`practice-count-${part}`);
    },
  );
  await agreeCount(page, team);
}

async function untilOperating(page: Page, say: Say, look: Look): Promise<void> {
  await look('practice-sign-in');
  await press(page, 'Everyone stops: begin');
  await answer(page, 'say your name', 'Yes, said aloud');
  await answer(page, 'allergy', 'None known');
  await press(page, 'Sign in finished');
  await expect(coach(page)).toContainText('Make the first count');
  await press(page, 'Begin the count');
  await count(page, say);
  await press(page, 'Everyone stops: begin');
  await answer(page, 'say patient, procedure', 'Yes, said aloud');
  await press(page, 'Time out finished');
  await press(page, 'Incision now');
  await tapPiece(page, 'Cannula 12 mm', 'on the table');
  await expect(coach(page)).toContainText('Two swabs in');
  await tapPiece(page, swab, 'on the table');
  await look('practice-frame');
  await tapPiece(page, swab, 'on the table');
}

async function specimen(page: Page, look: Look): Promise<void> {
  await press(page, 'Specimen');
  await press(page, 'It is out');
  await press(page, `In its pot, seen by ${team.scrub} and ${team.circulator}`);
  await expect(coach(page).getByRole('img')).toHaveAccessibleName(/TESTCASE, Ash/);
  await look('practice-label');
  await press(page, 'Every field read: the label says this');
  await press(page, starting(`${team.scrub} read it: it is so`));
  await press(page, 'To the frame');
}

/** Up to the closing count: the third swab slides in here, and nobody says it. */
async function untilClosingCount(page: Page, say: Say, look: Look): Promise<void> {
  await expect(coach(page)).toContainText('Two swabs out');
  await tapPiece(page, swab, 'in the patient');
  await tapPiece(page, swab, 'in the patient');
  await press(page, 'Towards closing');
  await answer(page, 'Did you look round', 'Yes');
  await answer(page, 'Is it dry', 'Dry');
  await press(page, 'Begin the closing count');
  await count(page, say, look);
}

/** One recount of the swabs, of what is drawn, or of what is remembered. */
export async function recount(page: Page, say: Say, look?: Look): Promise<void> {
  await expect(heading(page, 'Count again')).toBeVisible();
  for (const part of ['field', 'off']) {
    const where = part === 'off' ? 'off the field' : 'field and table';
    await expect(coach(page).locator('figcaption')).toHaveText(`${swab}, ${where}`);
    await look?.('practice-recount');
    await tapNumber(page, say(swab, part, await drawn(page)));
  }
  await press(page, 'Recount agreed');
}

async function search(page: Page, say: Say, look: Look): Promise<void> {
  await recount(page, say, look);
  await expect(heading(page, /^Do not close. One missing/)).toBeVisible();
  await expect(coach(page)).toContainText('Say it aloud to the surgeon');
  await look('practice-search');
  await press(page, /^Surgeon told/);
  await expect(coach(page)).toContainText('Read the record back');
  await press(page, /^Read the record back/);
  await press(dialog(page), 'Read back by both');
  await expect(coach(page)).toContainText('search the wound and the field');
  await press(page, /^Search wound and field/);
  await expect(coach(page)).toContainText('The surgeon feels behind the bowel');
  await press(page, 'Found it');
  await choose(dialog(page), 'Where it is now', 'Off the field');
  await look('practice-found');
  await press(dialog(page), 'Found. Count it again');
  await recount(page, say);
  await press(page, 'Count it again');
  await recount(page, say);
}

/** A count that agrees leads on to its closure. */
async function closeAll(page: Page, say: Say): Promise<void> {
  await press(page, 'Ask to close');
  await expect(coach(page)).toContainText('Port out');
  await tapPiece(page, 'Cannula 12 mm', 'in the patient');
  await press(page, 'Towards closing');
  await press(page, 'Begin the final count');
  await count(page, say);
}

async function leave(page: Page, look: Look): Promise<void> {
  await press(page, 'Ask to close');
  await press(page, 'Specimen');
  await press(page, 'Porter');
  await press(spine(page), starting('Sign out'));
  await press(page, 'Everyone stops: begin');
  await expect(foot(page)).toContainText('finished');
  await press(page, 'Sign out finished');
  await look('practice-leaving');
  await press(page, 'End the case');
  await look('practice-over');
  await press(coach(page), 'What was caught');
  await expect(heading(page, /caught/).first()).toBeVisible();
  await look('practice-debrief');
}

/** The whole case. Whoever says what lies there finds the swab; whoever says what they remember does not. */
export async function play(
  page: Page,
  how: { readonly say: Say; readonly isFound: boolean; readonly look?: Look },
): Promise<void> {
  const look: Look = how.look ?? (async () => {});
  await begin(page, /A small operation/);
  await untilOperating(page, how.say, look);
  await specimen(page, look);
  await untilClosingCount(page, how.say, look);
  if (how.isFound) await search(page, how.say, look);
  await closeAll(page, how.say);
  await leave(page, look);
}
