/**
 * A way through every screen, in one case that could have been: three faecoliths, a tie with a tail
 * that is not seen, a drain, one count that differs. `see` is called at each screen, by its name.
 */
import { expect, type Page } from '@playwright/test';
import {
  at,
  contain,
  firstCount,
  lastLook,
  layOut,
  passIn,
  passOut,
  portsIn,
  tie,
} from './appendicectomy.ts';
import {
  act,
  addToField,
  agreeCount,
  answer,
  bringInSight,
  button,
  choose,
  countLines,
  dialog,
  heading,
  holds,
  moveLine,
  openCase,
  openLine,
  press,
  seen,
  signIn,
  starting,
  stepNow,
  type Team,
  tapNumber,
  timeOut,
  type,
  understand,
} from './theatre.ts';
import { makeWorld, type World } from './world.ts';

export type See = (screen: string) => Promise<void>;

export const team: Team = {
  scrub: 'A. Testa',
  circulator: 'M. Prueba',
  surgeon: 'R. Ensayo',
  anaesthetist: 'K. Probe',
};

const patient = { name: 'TESTCASE, Ash', number: 'TR-100', born: '1970-01-31', weight: '72' };
const tail = 'Cut tail of a tie';

const spine = (page: Page) => page.getByRole('navigation', { name: 'Stations of the case' });

const leaveDialog = (page: Page): Promise<void> => press(dialog(page), 'Leave it');

async function opening(page: Page, see: See): Promise<void> {
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
  await see('start-empty');
  await press(page, 'Start a case');
  await expect(heading(page, 'Start a case')).toBeVisible();
  await see('opening');
  await choose(page, 'Sheet', 'Laparoscopic appendicectomy');
  await see('opening-plan');
  await press(page, 'Next');
  await press(page, 'Next');
  await press(page, 'Open the case');
  await expect(page.getByText('Say the name as on the wristband.').first()).toBeVisible();
  await press(page, 'Known: say which');
  await see('opening-wrong');
  await type(page, 'Which, with commas between', 'Latex');
  await press(page, 'Team');
  await see('opening-team');
  await press(page, /Operation$/);
  await openCase(page, {
    patient,
    team,
    stump: 'Tie inside, free braided strand',
    hasAllergiesLeft: true,
  });
  await see('sign-in-begin');
  await press(page, 'Team brief');
  await see('team-brief');
  await press(page, 'Sign in');
}

async function beforeIncision(page: Page, world: World, see: See): Promise<void> {
  await press(page, 'Not yet');
  await expect(heading(page, 'Nothing is on the table yet')).toBeVisible();
  await see('frame-empty');
  await press(spine(page), starting('Sign in'));
  await press(page, 'Everyone stops: begin');
  await see('sign-in');
  await press(page, 'Leave it open…');
  await see('step-left-open');
  await leaveDialog(page);
  await signIn(page, {
    isBegun: true,
    atAllergy: async () => {
      await press(page, 'Known, and said aloud');
      await see('sign-in-allergy');
      await leaveDialog(page);
    },
    atBloodLoss: () => see('sign-in-number'),
  });

  await at(page, '13:38');
  await see('first-count-begin');
  layOut(world);
  await firstCount(page, world, team, { atAgree: () => see('first-count-agree') });
  await see('time-out-begin');
  await press(page, 'Not yet');
  await see('frame-before-incision');
  await at(page, '13:44');
  await press(page, 'Time out');
  await timeOut(page, {
    agent: 'Cefuroxime',
    minutesAgo: '20 min',
    faecoliths: '3',
    atDose: () => see('time-out-dose'),
    atFaecoliths: () => see('time-out-number'),
  });
  world.put('Faecolith', 'inside', 3);
  await at(page, '13:46');
  await press(page, 'Incision now');
  await expect(heading(page, 'Closure is held')).toBeVisible();
}

async function operating(page: Page, world: World, see: See): Promise<void> {
  await at(page, '13:51');
  await portsIn(page, world);
  await at(page, '14:08');
  await passIn(page, world, 'Swab 10 × 10', 2);
  await addToField(page, 'Reel of braided tie', team);
  const reel = await openLine(page, 'Reel of braided tie');
  await see('line-reel');
  await press(reel, 'Reel cut into lengths');
  world.put('Length of tie', 'table', 5);
  await at(page, '14:21');
  await tie(page, world, { on: 'base', seenOut: 1 });
  await addToField(page, 'Polymer clip', team);
  world.put('Polymer clip', 'table', 6);
  world.put('Cartridge of clips', 'table', 1);
  await at(page, '14:29');
  await passIn(page, world, 'Polymer clip', 2);
  await act(page, 'Polymer clip', /^Stays on purpose/);
  world.shift('Polymer clip', 'inside', 'gone');
  await at(page, '14:31');
  await passIn(page, world, 'Retrieval bag');
  await bringInSight(page, 'Swab 10 × 10');
  await see('operating');
  await press(page, 'From afar');
  await see('wall');
  await press(page, 'Back to the case');
}

async function dialogsOfTheFrame(page: Page, see: See): Promise<void> {
  await press(page, 'Add to field');
  await see('add');
  await press(dialog(page), starting('Swab 10 × 10'));
  await press(dialog(page), 'Pack 1 holds: one less');
  await see('add-packs');
  await leaveDialog(page);
  await openLine(page, 'Polymer clip');
  await see('line-clip');
  await leaveDialog(page);
  await press(page, 'More…');
  await see('more');
  const parts = [
    ['Another plan', 'more-plan'],
    ['Somebody takes over', 'more-relief'],
    ['Count now', 'more-count'],
    ['Seen inside', 'more-seen'],
    ['Blood and fluids', 'more-loss'],
    ['Note', 'more-note'],
    ['Earlier entries', 'more-entries'],
    ['Emergency', 'more-emergency'],
  ] as const;
  for (const [words, name] of parts) {
    await choose(dialog(page), 'What happened?', words);
    await see(name);
    if (name === 'more-loss') {
      await choose(dialog(page), 'What was measured', 'Swabs weighed');
      await see('more-loss-number');
    }
    await leaveDialog(page);
    if (name !== 'more-emergency') await press(page, 'More…');
  }
  await press(page, 'More…');
  await choose(dialog(page), 'What happened?', 'Antibiotic');
  await expect(heading(page, 'Antibiotic')).toBeVisible();
  await see('dose');
  await press(page, 'To the counting frame');
}

async function specimen(page: Page, world: World, see: See): Promise<void> {
  await moveLine(page, 'Retrieval bag', { from: 'the abdomen', to: 'to off the field' });
  world.shift('Retrieval bag', 'inside', 'off');
  await press(page, 'Specimen');
  await press(page, 'Polymer clip: one more');
  for (const _ of [1, 2, 3]) await press(page, 'Faecolith: one more');
  await see('specimen-out');
  await press(page, 'It is out');
  world.shift('Polymer clip', 'inside', 'gone');
  world.shift('Faecolith', 'inside', 'gone', 3);
  await expect(button(page, /^In its pot/)).toBeVisible();
  await see('specimen-pot');
  await contain(page, team);
  await see('specimen-label');
  await press(page, 'Type what the label says');
  await type(page, 'Name on the label', patient.name);
  await type(page, 'Number on the label', 'TR-001');
  await press(page, 'Compare with the case');
  await expect(page.getByRole('alert')).toBeVisible();
  await see('specimen-label-differs');
  await understand(page);
  await press(page, 'Every field read: the label says this');
  const scrubReads = starting(`${team.scrub} read it: it is so`);
  await expect(button(page, scrubReads)).toBeVisible();
  await see('specimen-read-back');
  await press(page, scrubReads);
  await expect(button(page, 'Porter')).toBeVisible();
  await see('specimen-hand-over');
  await press(page, 'Porter');
  await expect(page.getByText('With Porter since')).toBeVisible();
  await see('specimen-handed-over');
  await press(page, 'New specimen');
  await see('specimen-new');
  await leaveDialog(page);
  await press(page, 'To the frame');
}

async function drain(page: Page, world: World, see: See): Promise<void> {
  await passOut(page, world, 'Swab 10 × 10', 2);
  await addToField(page, 'Drain', team);
  world.put('Drain', 'table', 1);
  await passIn(page, world, 'Drain');
  await act(page, 'Drain', /^Stays on purpose/);
  world.shift('Drain', 'inside', 'gone');
  const sheet = await openLine(page, 'Drain');
  await type(sheet, 'Reason', 'drainage after perforation');
  await type(sheet, 'Where', 'pelvis');
  await see('line-drain');
  await press(sheet, 'Record why it stays');
}

async function closingCount(page: Page, world: World, see: See): Promise<void> {
  await at(page, '14:38');
  await press(page, 'Towards closing');
  await see('closing-look');
  await lastLook(page, 'Stays, and where is said');
  await press(page, 'Ask to close');
  await expect(page.getByRole('alert')).toBeVisible();
  await see('closing-refused');
  await understand(page);
  await press(holds(page), /Closing count not done/);
  await see('closing-count-begin');
  await press(page, 'Begin the count');
  const lines = await countLines(page, seen(world), async (line, pass) => {
    if (line.startsWith('Port 12 mm')) await see('closing-count');
    // A large tray begins with the tens.
    if (line === 'Laparoscopic tray') await see('closing-count-tens');
    if (line === tail && pass === 'off') await see('closing-count-off');
  });
  expect(lines).toContain(`${tail}/off`);
  await agreeCount(page, team);
  await expect(heading(page, 'Count again')).toBeVisible();
  await see('recount');
}

async function recountTail(page: Page, world: World): Promise<void> {
  await expect(heading(page, 'Count again')).toBeVisible();
  await tapNumber(page, seen(world)(tail, 'field'));
  await tapNumber(page, seen(world)(tail, 'off'));
  await press(page, 'Recount agreed');
}

async function discrepancy(page: Page, world: World, see: See): Promise<void> {
  await recountTail(page, world);
  await press(page, /^Surgeon told/);
  await expect(page.getByRole('button', { name: /^Surgeon told/ })).toBeDisabled();
  await see('discrepancy');
  await press(page, /^Read the record back/);
  await see('discrepancy-read');
  await leaveDialog(page);
  await press(page, 'Declare…');
  await see('discrepancy-declare');
  await leaveDialog(page);
  await press(page, /^X-ray before/);
  await see('x-ray');
  await leaveDialog(page);
  await page.getByRole('listitem').filter({ hasText: 'Search linen' }).getByText('Why not…').tap();
  await see('discrepancy-why-not');
  await leaveDialog(page);
  await press(page, 'Found it');
  await see('discrepancy-found');
  world.shift(tail, 'inside', 'off');
  await choose(dialog(page), 'Where the record still has it', 'the abdomen');
  await press(dialog(page), 'Found. Count it again');
  await recountTail(page, world);
  await press(page, 'Count it again');
  await recountTail(page, world);
  await expect(heading(page, /Do not close yet/)).toBeVisible();
}

async function leaving(page: Page, see: See): Promise<void> {
  await lastLook(page, 'Stays, and where is said');
  await see('closing-clear');
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
  await press(spine(page), starting('Fascia'));
  await see('closing-closed');
  await press(page, 'Reopen…');
  await see('reopen');
  await leaveDialog(page);
  await press(spine(page), starting('Skin'));
  await see('closing-skin');
  await press(holds(page), /Final count not done/);
  await press(spine(page), starting('Sign out'));
  await see('sign-out-begin');
  await press(page, 'Everyone stops: begin');
  await expect(stepNow(page)).toBeVisible();
  await see('sign-out');
  await answer(page, 'What did we do', 'Said aloud');
  await press(spine(page), starting('Record'));
  await expect(heading(page, 'Every entry, in order')).toBeVisible();
  await see('record');
  await press(page, 'All cases');
  await expect(heading(page, 'In progress')).toBeVisible();
  await see('start-cases');
}

/** Walks through every screen of a case. The page must be at the start of an empty tablet. */
export async function tour(page: Page, see: See): Promise<void> {
  const world = makeWorld();
  await at(page, '13:20');
  await page.reload(); // a clock that is set back under an open page is said over every screen
  await opening(page, see);
  await at(page, '13:31');
  await beforeIncision(page, world, see);
  await operating(page, world, see);
  await dialogsOfTheFrame(page, see);
  await specimen(page, world, see);
  await drain(page, world, see);
  await closingCount(page, world, see);
  await discrepancy(page, world, see);
  await leaving(page, see);
}
