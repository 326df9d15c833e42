/** Worked case F5 on the tablet: a caesarean; the larger of two wound protectors is inside, and the count is short. */
import { expect, type Page } from '@playwright/test';
import { at, contain, measured, passIn, putOff, readBack } from './appendicectomy.ts';
import {
  addToField,
  agreeCount,
  answer,
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
  shown,
  signIn,
  starting,
  stepNow,
  tapNumber,
  tapPiece,
  type,
} from './theatre.ts';
import type { Phase, World } from './world.ts';

const team = { scrub: 'N1', circulator: 'N2', surgeon: 'Doctor S5', anaesthetist: 'Doctor A5' };
const patient = {
  name: 'Emu U. NOTREAL',
  number: 'ZZ-TEST-0005',
  born: '1995-05-05',
  weight: '75',
};
const large = 'Large swab 45 × 45';
const swab = 'Swab 10 × 10';
const needle = 'Suture needle';
const small = 'Wound protector, medium';
const wide = 'Wound protector, large';

/** What lies open at the first count. */
const opened: readonly (readonly [string, number])[] = [
  [large, 5],
  [swab, 10],
  [needle, 4],
  ['Blade', 2],
  ['Caesarean tray', 42],
  ['Suction tip', 1],
  ['Tip cleaner pad', 1],
  ['Diathermy tip', 1],
  ['Cord clamp', 1],
  [small, 1],
];

async function opening(page: Page): Promise<void> {
  await press(page, 'Start a case');
  await openCase(page, {
    patient,
    team,
    sheet: 'Caesarean section',
    plan: [['Wound protector', 'Medium']],
  });
}

async function untilIncision(page: Page, world: World): Promise<void> {
  await signIn(page);
  await at(page, '09:50');
  for (const [line, pieces] of opened) world.put(line, 'table', pieces);
  await press(page, 'Begin the count');
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await press(page, 'Everyone stops: begin');
  await answer(page, 'How urgent is it', 'Planned');
  await answer(page, 'swabs or tampons', '0');
  await answer(page, 'electrodes are on', '0');
  await answer(page, "baby's heart heard", 'Yes, said aloud');
  await answer(page, 'block tested', 'Tested, high enough');
  await answer(page, 'here for each baby', 'Yes, said aloud');
  await press(page, 'From labour finished');
  await at(page, '09:58');
  await press(page, 'Time out');
  await timeOut(page);
  await at(page, '10:00');
  await press(page, 'Incision now');
  await expect(holds(page)).toContainText('Closure is held');
}

async function timeOut(page: Page): Promise<void> {
  await press(page, 'Everyone stops: begin');
  await answer(page, 'their name and their role', 'Yes, said aloud');
  await answer(page, 'say patient, procedure', 'Yes, said aloud');
  await choose(page, 'Which', 'Cefuroxime');
  await answer(page, 'antibiotic', '30 min');
  await answer(page, 'steps that worry you', 'Yes, said aloud');
  await answer(page, 'what worries you about', 'Yes, said aloud');
  await answer(page, 'indicators turn', 'Indicators turned, nothing wrong');
  await answer(page, 'images shown', 'Yes, said aloud');
  await answer(page, 'anything else done today', 'Nothing else');
  await press(page, 'Time out finished');
}

/** From now on a tap on the table puts a piece there. */
const goInto = (page: Page, site: string): Promise<void> => press(page, new RegExp(`^In: ${site}`));

async function outOf(page: Page, world: World, line: string, site: string, n = 1): Promise<void> {
  for (let piece = 0; piece < n; piece += 1) {
    await tapPiece(page, line, `in: ${site}`);
    world.shift(line, 'inside', 'off');
  }
}

async function birth(page: Page, world: World): Promise<void> {
  await at(page, '10:03');
  await passIn(page, world, small);
  await at(page, '10:05');
  await addToField(page, wide, team);
  world.put(wide, 'table', 1);
  await at(page, '10:06');
  await outOf(page, world, small, 'abdomen');
  await passIn(page, world, wide);
  world.shift(wide, 'inside', 'in sight');
  await at(page, '10:09');
  const clamp = await openLine(page, 'Cord clamp');
  await clamp.getByText('It leaves with somebody…').tap();
  await type(clamp, 'With whom', 'the baby, ZZ-TEST-0005B');
  await press(clamp, 'It leaves the room with them');
  await expect(dialog(page)).toHaveCount(0);
  world.shift('Cord clamp', 'table', 'gone');
  await at(page, '10:13');
  await goInto(page, 'uterus');
  await passIn(page, world, large, 2);
  await at(page, '10:16');
  await outOf(page, world, large, 'uterus', 2);
  await press(page, 'Specimen');
  await press(page, 'It is out');
  await contain(page, team);
  await press(page, 'Every field read: the label says this');
  await readBack(page, team.scrub);
  await type(page, 'Somebody else', 'midwife M1');
  await press(page, 'Handed over');
  await expect(page.getByText('With midwife M1 since')).toBeVisible();
  await press(page, 'To the frame');
}

async function uterusClosed(page: Page, world: World): Promise<void> {
  world.shift(swab, 'table', 'off', 4); // into their bag; the tablet was not told
  await press(page, 'Towards closing');
  await answer(page, 'feel and see round', 'Yes');
  await answer(page, 'a balloon or anything else', 'Nothing');
  await at(page, '10:20');
  await press(page, 'Begin the cavity count');
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
}

/** The ring slips off the edge of the wound: nobody sees it go. */
async function sheathIsHeld(page: Page, world: World): Promise<void> {
  await at(page, '10:25');
  await passIn(page, world, large, 3);
  await at(page, '10:32');
  await outOf(page, world, large, 'abdomen', 3);
  await moveLine(page, needle, { from: 'the table', to: 'to off the field', n: 2 });
  world.shift(needle, 'table', 'off', 2);
  await putOff(page, world, 'Blade');
  await putOff(page, world, 'Blade');
  world.shift(swab, 'table', 'off', 4);
  world.shift(wide, 'in sight', 'inside');
  await press(page, 'Towards closing');
  await lookAtSheath(page);
  await at(page, '10:34');
  await press(page, 'Begin the closing count');
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await expect(heading(page, 'Count again')).toBeVisible();
  await tapNumber(page, 0);
  await press(page, 'Recount agreed');
  await expect(heading(page, 'Do not close. One missing.')).toBeVisible();
  await expect(page.getByRole('main')).toContainText(wide);
}

async function lookAtSheath(page: Page): Promise<void> {
  await answer(page, 'firm and dry', 'Yes');
  await answer(page, 'gutters and pelvis', 'Yes');
  await answer(page, 'Protectors', 'All out, rings seen');
  await answer(page, 'heat marks', 'Looked at, nothing found');
  await answer(page, 'Does a drain stay', 'None');
  await answer(page, 'not said yet', 'Nothing');
}

async function foundInside(page: Page, world: World): Promise<void> {
  await press(page, /Surgeon told, and says so/);
  await at(page, '10:36');
  world.shift(wide, 'inside', 'off');
  await press(page, 'Found it');
  await press(dialog(page), 'Found. Count it again');
  await recountFound(page);
  await press(page, 'Count it again');
  await recountFound(page);
  await lookAtSheath(page);
  await at(page, '10:37');
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
}

async function recountFound(page: Page): Promise<void> {
  await expect(heading(page, 'Count again')).toBeVisible();
  await tapNumber(page, 0);
  await tapNumber(page, 1);
  await press(page, 'Recount agreed');
}

async function skinClosed(page: Page, world: World): Promise<void> {
  await at(page, '10:46');
  await goInto(page, 'vagina');
  await passIn(page, world, swab, 2);
  await at(page, '10:47');
  await outOf(page, world, swab, 'vagina', 2);
  await moveLine(page, needle, { from: 'the table', to: 'to off the field', n: 2 });
  world.shift(needle, 'table', 'off', 2);
  world.shift(swab, 'off', 'table'); // one that was thought to be bagged lies on the table
  await press(page, 'Towards closing');
  await answer(page, 'vagina cleared', 'Yes');
  await answer(page, 'electrode out', 'Yes');
  await answer(page, 'placenta and membranes', 'Whole');
  await at(page, '10:49');
  await press(page, 'Begin the final count');
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
  expect(await shown(page, swab, 'off the field')).toBe(9);
}

async function leave(page: Page): Promise<void> {
  await measured(
    page,
    { what: 'Swabs weighed', amount: '470', swabs: 5 },
    { what: 'Swabs weighed', amount: '108', swabs: 9, line: swab },
    { what: 'In the suction', amount: '640' },
    { what: 'Liquor or other fluid', amount: '350' },
  );
  await at(page, '10:52');
  await press(page, 'Sign out');
  await press(page, 'Everyone stops: begin');
  await press(stepNow(page).filter({ hasText: 'What did we do' }), 'Said aloud');
  await answer(page, 'equipment broken', 'None');
  await answer(page, 'what matters for recovery', 'Yes, said aloud');
  await press(stepNow(page).filter({ hasText: 'How much blood was lost' }), '500');
  await answer(page, 'clot prevention', 'Yes, said aloud');
  await press(page, 'Sign out finished');
  await press(page, 'End the case');
  const record = page.getByRole('article');
  await expect(
    heading(record, 'Reconciled: nothing was open that the record knows of.'),
  ).toBeVisible();
  await expect(record).toContainText('Swabs 333 mL + suction less irrigation 290 mL');
  await press(page, 'All cases');
  await expect(button(page, starting('Emu U. NOTREAL'))).toBeVisible();
}

/** Worked case F5 of the drills, phase by phase, on the sheet of the repository. */
export const caseF5: readonly Phase[] = [
  { name: 'opening', play: opening },
  { name: 'sign in, first count, time out', play: untilIncision },
  { name: 'protectors, birth, placenta', play: birth },
  { name: 'uterus, cavity count', play: uterusClosed },
  { name: 'sheath, closing count, short', play: sheathIsHeld },
  { name: 'found inside, sheath', play: foundInside },
  { name: 'vagina, skin, final count', play: skinClosed },
  { name: 'leaving, sign out, record', play: leave },
];
