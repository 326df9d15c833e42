/** A short case on the teaching sheet, for tests that are about something else than the operation. */
import { expect, type Page } from '@playwright/test';
import {
  agreeCount,
  answer,
  countLines,
  heading,
  openCase,
  press,
  type See,
  type Team,
} from './theatre.ts';

export const team: Team = {
  scrub: 'A. Testa',
  circulator: 'M. Prueba',
  surgeon: 'R. Ensayo',
  anaesthetist: 'K. Probe',
};

export const patient = { name: 'TESTCASE, Ash', number: 'TR-100', born: '1970-01-31' } as const;

/** What lies open on the teaching sheet. */
export const opened: Readonly<Record<string, number>> = {
  'Swab 10 × 10': 5,
  'Cannula 12 mm': 1,
  'Seal 12 mm': 3,
  Grasper: 1,
};

export const onTheTable: See = (line, pass) => (pass === 'field' ? (opened[line] ?? 0) : 0);

export async function openTeachingCase(page: Page): Promise<void> {
  await press(page, 'Start a case');
  await openCase(page, { patient, team, sheet: 'Ports and swabs' });
}

export async function signInShort(page: Page): Promise<void> {
  await press(page, 'Everyone stops: begin');
  await answer(page, 'say your name', 'Yes, said aloud');
  await answer(page, 'allergy', 'None known');
  await press(page, 'Sign in finished');
}

export async function countFirst(page: Page): Promise<void> {
  await press(page, 'Begin the count');
  await countLines(page, onTheTable);
  await agreeCount(page, team);
}

export async function untilOperating(page: Page): Promise<void> {
  await press(page, 'Everyone stops: begin');
  await answer(page, 'say patient, procedure', 'Yes, said aloud');
  await press(page, 'Time out finished');
  await press(page, 'Incision now');
  await expect(heading(page, 'Closure is held')).toBeVisible();
}
