/** Worked case F1 on the tablet: three pre-tied loops, nothing goes wrong. */
import { expect, type Page } from '@playwright/test';
import {
  at,
  contain,
  expectAsOpened,
  firstCount,
  lastLook,
  layOut,
  measured,
  passIn,
  passOut,
  portSetsIn,
  portSetsOut,
  readBack,
} from './appendicectomy.ts';
import {
  act,
  agreeCount,
  answer,
  button,
  countLines,
  dialog,
  heading,
  holds,
  isTappable,
  openCase,
  press,
  seen,
  signIn,
  starting,
  stepNow,
  timeOut,
} from './theatre.ts';
import type { Phase, World } from './world.ts';

const team = { scrub: 'N1', circulator: 'N2', surgeon: 'Doctor S1', anaesthetist: 'Doctor A1' };
const patient = {
  name: 'Aardvark Q. PLACEHOLDER',
  number: 'ZZ-TEST-0001',
  born: '1990-04-01',
  weight: '70',
};
const loop = 'Pre-tied loop';
const pusher = 'Pusher tube of a loop';

async function opening(page: Page): Promise<void> {
  await press(page, 'Start a case');
  await openCase(page, { patient, team, hasAllergiesLeft: true });
}

async function signInAndCount(page: Page, world: World): Promise<void> {
  await signIn(page);
  await expect(page.getByText('No known allergies')).toBeVisible();
  await at(page, '09:52');
  layOut(world);
  await firstCount(page, world, team);
}

async function timeOutAndIncision(page: Page): Promise<void> {
  await at(page, '09:58');
  await timeOut(page, { agent: 'Cefuroxime', minutesAgo: '30 min', faecoliths: '0' });
  await expectAsOpened(page);
  await at(page, '10:00');
  await press(page, 'Incision now');
  await expect(holds(page)).toContainText('Closure is held');
  await portsInSight(page, 'in');
}

/**
 * The keys of all ports stand in sight of themselves: nobody turns a page for what comes next. A tablet of less than
 * 800 lines has no room for both.
 */
async function portsInSight(page: Page, way: 'in' | 'out'): Promise<void> {
  if ((await page.evaluate(() => innerHeight)) < 800) return;
  for (const group of ['Port 12 mm', 'Port 5 mm'])
    await expect
      .poll(() => isTappable(button(page, starting(`${group}, One set ${way}`))))
      .toBe(true);
}

async function opened(page: Page, world: World, loops: number): Promise<void> {
  await press(page, 'Add to field');
  await press(dialog(page), starting(loop));
  for (let n = 1; n < loops; n += 1) await press(dialog(page), 'How many, seen by both: one more');
  await press(dialog(page), `Both saw it: ${team.scrub} and ${team.circulator}`);
  await expect(dialog(page)).toHaveCount(0);
  world.put(loop, 'table', loops);
}

async function placed(page: Page, world: World, where: 'base' | 'specimen side'): Promise<void> {
  await passIn(page, world, loop);
  await act(page, loop, `Loop placed on the ${where}`);
  world.take(loop, 'inside', 1);
  world.put('Ligature of a loop', where === 'base' ? 'gone' : 'inside', 1);
  world.put(pusher, 'inside', 1);
  world.put('End piece of a loop', 'table', 1);
  await passOut(page, world, pusher, 1, 'table');
}

async function operation(page: Page, world: World): Promise<void> {
  await at(page, '10:04');
  await portSetsIn(page, world);
  await at(page, '10:24');
  await opened(page, world, 2);
  await at(page, '10:26');
  await placed(page, world, 'base');
  await at(page, '10:28');
  await placed(page, world, 'base');
  await at(page, '10:30');
  await opened(page, world, 1);
  await placed(page, world, 'specimen side');
  await at(page, '10:36');
  await passIn(page, world, 'Retrieval bag');
  await at(page, '10:41');
  await passOut(page, world, 'Retrieval bag', 1, 'table');
}

async function specimen(page: Page, world: World): Promise<void> {
  await press(page, 'Specimen');
  await press(page, 'Ligature of a loop: one more');
  await press(page, 'It is out');
  world.shift('Ligature of a loop', 'inside', 'gone');
  await at(page, '10:43');
  await contain(page, team);
  await press(page, 'Every field read: the label says this');
  await readBack(page, team.surgeon);
  await press(page, 'Porter');
  await expect(page.getByText('With Porter since')).toBeVisible();
}

async function closingCount(page: Page, world: World): Promise<void> {
  await at(page, '10:46');
  // Into their bag and their box; the tablet was not told.
  world.shift('Swab 10 × 10', 'table', 'off', 3);
  world.shift('Blade', 'table', 'off');
  await press(page, 'Towards closing');
  await lastLook(page, 'None');
  await at(page, '10:47');
  await press(page, 'Begin the closing count');
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await expect(holds(page)).toContainText('Nothing open that I know of');
}

async function closeFascia(page: Page, world: World): Promise<void> {
  await at(page, '10:49');
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
  await portsInSight(page, 'out');
  await at(page, '10:52');
  await portSetsOut(page, world);
}

async function closeSkin(page: Page, world: World): Promise<void> {
  await at(page, '10:54');
  world.shift('Swab 10 × 10', 'table', 'off', 5);
  world.shift('Suture needle', 'table', 'off', 2);
  world.shift('Hypodermic needle', 'table', 'off');
  await press(page, 'Towards closing');
  await answer(page, 'ports come out under vision', 'Yes');
  await answer(page, 'each seal seen', 'Yes');
  await answer(page, 'fascia closed at every site', 'Closed at each');
  await at(page, '10:56');
  await press(page, 'Begin the final count');
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
}

async function leave(page: Page): Promise<void> {
  await expect(button(page, 'Blood and fluids')).toBeVisible();
  await measured(
    page,
    { what: 'Swabs weighed', amount: '62', swabs: 8 },
    { what: 'In the suction', amount: '15' },
  );
  await at(page, '10:58');
  await press(page, 'Sign out');
  await press(page, 'Everyone stops: begin');
  await press(stepNow(page).filter({ hasText: 'What did we do' }), 'Said aloud');
  await answer(page, 'equipment broken', 'None');
  await answer(page, 'what matters for recovery', 'Yes, said aloud');
  await answer(page, "antibiotic's stop", 'Yes, said aloud');
  await press(page, 'Sign out finished');
  await press(page, 'End the case');
  const record = page.getByRole('article');
  await expect(
    heading(record, 'Reconciled: nothing was open that the record knows of.'),
  ).toBeVisible();
  await expect(record).toContainText('Swabs 22 mL + suction less irrigation 15 mL = about 37 mL.');
  for (const row of atTheEnd)
    await expect(record.getByRole('row', { name: row, exact: true })).toHaveCount(1);
}

/** In all, on the table, inside, off the field, stays, with the specimen, missing: the sums of the worked case. */
const atTheEnd = [
  'Swab 10 × 10 10 2 0 8 0 0 0',
  'Suture needle 2 0 0 2 0 0 0',
  'Laparoscopic tray 44 44 0 0 0 0 0',
  'Cannula 5 mm 2 2 0 0 0 0 0',
  'Ligature of a loop 3 0 0 0 2 1 0',
] as const;

/** Worked case F1 of the drills, phase by phase. */
export const caseF1: readonly Phase[] = [
  { name: 'opening', play: opening },
  { name: 'sign in, first count', play: signInAndCount },
  { name: 'time out, incision', play: timeOutAndIncision },
  { name: 'ports, loops, bag', play: operation },
  { name: 'specimen', play: specimen },
  { name: 'last look, closing count', play: closingCount },
  { name: 'fascia, ports out', play: closeFascia },
  { name: 'skin, final count', play: closeSkin },
  { name: 'leaving, sign out, record', play: leave },
];
