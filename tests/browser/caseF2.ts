/** Worked case F2 on the tablet: braided ties, a tail missing at the closing count and found in the seal. */
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
  portsIn,
  portsOut,
  putOff,
  readBack,
  tie,
} from './appendicectomy.ts';
import { expectBlind } from './blind.ts';
import {
  act,
  addToField,
  agreeCount,
  answer,
  button,
  choose,
  countLines,
  dialog,
  heading,
  hold,
  holds,
  moveLine,
  openCase,
  openLine,
  press,
  refusal,
  seen,
  shown,
  signIn,
  starting,
  stepNow,
  tapNumber,
  timeOut,
  turn,
  type,
  understand,
} from './theatre.ts';
import type { Phase, World } from './world.ts';

const team = { scrub: 'N1', circulator: 'N2', surgeon: 'Doctor S2', anaesthetist: 'Doctor A2' };
const patient = {
  name: 'Bumblebee R. NOBODY',
  number: 'ZZ-TEST-0002',
  born: '1985-06-15',
  weight: '80',
};
const fascia = 'Fascia 12 mm';
const tail = 'Cut tail of a tie';

async function opening(page: Page): Promise<void> {
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
  await press(page, 'Start a case');
  await choose(page, 'Sheet', 'Laparoscopic appendicectomy');
  await press(page, 'Next');
  await press(page, 'Next');
  await press(page, 'Open the case');
  const said = page.getByRole('status');
  await expect(said).toContainText('Say the name as on the wristband. And 6 more.');
  const expectSaid = async (sentences: readonly string[]) => {
    for (const sentence of sentences) await expect(page.getByText(sentence)).toBeVisible();
  };
  await expectSaid([
    'Say the patient number as on the wristband.',
    'Give a date of birth that is not after today.',
  ]);
  await press(page, 'Team');
  await expectSaid(['Say who is the scrub.', 'Say who is the anaesthetist.']);
  await press(page, /Operation$/);
  await openCase(page, { patient, team, stump: 'Tie inside, free braided strand' });
}

async function untilIncision(page: Page, world: World): Promise<void> {
  await expect(holds(page)).toContainText('Incision waits for');
  await signIn(page);
  await expect(holds(page)).toContainText('First count not agreed');
  await expect(button(page, 'Incision now')).toHaveCount(0);

  await at(page, '09:51');
  layOut(world);
  await firstCount(page, world, team);
  await at(page, '09:58');
  await timeOut(page, { agent: 'Cefuroxime', minutesAgo: '30 min', faecoliths: '3' });
  await expectAsOpened(page);
  world.put('Faecolith', 'inside', 3);
  expect(await shown(page, 'Faecolith', 'in the patient')).toBe(3);
  await expect(holds(page)).toContainText('Ready for incision');
  await at(page, '10:00');
  await press(page, 'Incision now');
  await expect(holds(page)).toContainText('Closure is held');
}

async function entryAndPus(page: Page, world: World): Promise<void> {
  await at(page, '10:05');
  await portsIn(page, world);
  await at(page, '10:14');
  await addToField(page, 'Culture swab stick', team);
  world.put('Culture swab stick', 'table', 1);
  await passIn(page, world, 'Culture swab stick');
  await passOut(page, world, 'Culture swab stick');

  await press(page, 'Specimen');
  await press(page, 'New specimen');
  await choose(dialog(page), 'What is taken', 'Pus or peritoneal fluid');
  await press(page, 'It is out');
  await contain(page, team);
  await world.atLabel?.(page);
  await press(page, 'Every field read: the label says this');
  await expect(page.getByText('Labelled by N2.')).toBeVisible();
  await press(page, 'To the frame');
  await at(page, '10:22');
  await passIn(page, world, 'Swab 10 × 10', 2);
}

async function ties(page: Page, world: World): Promise<void> {
  await at(page, '10:30');
  await addToField(page, 'Reel of braided tie', team);
  await turn(page, 'Reel of braided tie', 'Reel cut into lengths');
  world.put('Length of tie', 'table', 5); // four lengths and the remainder
  expect(await shown(page, 'Length of tie', 'on the table')).toBe(5);
  await at(page, '10:33');
  await tie(page, world, { on: 'base', seenOut: 2 });
  await at(page, '10:36');
  await tie(page, world, { on: 'base', seenOut: 1 });
  await at(page, '10:39');
  await tie(page, world, { on: 'specimen', seenOut: 2 });
  expect(await shown(page, tail, 'in the patient')).toBe(1);
  expect(await shown(page, tail, 'off the field')).toBe(5);
  expect(await shown(page, 'Knot of a tie', 'stays')).toBe(2);
  expect(await shown(page, 'Knot of a tie', 'in the patient')).toBe(1);
}

async function clips(page: Page, world: World): Promise<void> {
  await at(page, '10:44');
  await addToField(page, 'Polymer clip', team);
  await addToField(page, 'Clip applicator', team);
  world.put('Polymer clip', 'table', 6);
  world.put('Cartridge of clips', 'table', 1);
  world.put('Clip applicator', 'table', 1);
  await passIn(page, world, 'Polymer clip', 3);
  await act(page, 'Polymer clip', /^Stays on purpose/);
  await act(page, 'Polymer clip', /^Stays on purpose/);
  world.shift('Polymer clip', 'inside', 'gone', 2);
  await at(page, '10:48');
  await passIn(page, world, 'Polymer clip');
  await passOut(page, world, 'Polymer clip');
  expect(await shown(page, 'Polymer clip', 'stays')).toBe(2);
  expect(await shown(page, 'Polymer clip', 'in the patient')).toBe(1);
  await at(page, '10:52');
  await addToField(page, 'Swab 10 × 10', team);
  world.put('Swab 10 × 10', 'table', 5);
  expect(await shown(page, 'Swab 10 × 10', 'on the table')).toBe(13);
}

async function appendixOut(page: Page, world: World): Promise<void> {
  await at(page, '11:00');
  await passIn(page, world, 'Retrieval bag');
  await at(page, '11:06');
  await moveLine(page, 'Retrieval bag', { from: 'the abdomen', to: 'to off the field' });
  world.shift('Retrieval bag', 'inside', 'off');
  await passOut(page, world, 'Faecolith');

  await press(page, 'Specimen');
  await press(page, 'Pieces out: one more');
  await choose(page, 'Bag, looked at by the scrub', 'Intact');
  await press(page, 'Knot of a tie: one more');
  await press(page, 'Polymer clip: one more');
  await press(page, 'Faecolith: one more');
  await press(page, 'Faecolith: one more');
  await press(page, 'It is out');
  world.shift('Knot of a tie', 'inside', 'gone');
  world.shift('Polymer clip', 'inside', 'gone');
  world.shift('Faecolith', 'inside', 'gone', 2);
  await at(page, '11:07');
  await contain(page, team);
  await world.atLabel?.(page);

  await press(page, 'Type what the label says');
  await type(page, 'Name on the label', patient.name);
  await type(page, 'Number on the label', 'ZZ-TEST-0020');
  await press(page, 'Compare with the case');
  await expect(refusal(page)).toContainText('Not entered.');
  await expect(refusal(page)).toContainText(
    'The label differs from the case. (number of the patient)',
  );
  await understand(page);
  await type(page, 'Number on the label', patient.number);
  await press(page, 'Compare with the case');
  await readBack(page, team.surgeon);
  await press(page, 'Porter');
  await expect(page.getByText('With Porter since')).toBeVisible();
  await press(page, 'To the frame');
}

async function drainAndBoxes(page: Page, world: World): Promise<void> {
  await at(page, '11:14');
  await measured(page, { what: 'Irrigation used', field: 'How much', amount: '3000' });
  await passOut(page, world, 'Swab 10 × 10', 2);
  await at(page, '11:20');
  await addToField(page, 'Drain', team);
  await addToField(page, 'Suture needle', team);
  world.put('Suture needle', 'table', 1);
  await act(page, 'Drain', 'Drain shortened');
  world.put('Drain', 'table', 1);
  world.put('Off-cut of a drain', 'off', 1);
  await moveLine(page, 'Off-cut of a drain', { from: 'the table', to: 'to off the field' });
  await passIn(page, world, 'Drain');
  await act(page, 'Drain', /^Stays on purpose/);
  world.shift('Drain', 'inside', 'gone');
  await expect(hold(page, 'Drain stays without a reason')).toBeVisible();
  const sheet = await openLine(page, 'Drain');
  await type(sheet, 'Reason', 'drainage after perforation');
  await type(sheet, 'Where', 'pelvis');
  await press(sheet, 'Record why it stays');
  await expect(hold(page, 'Drain stays without a reason')).toHaveCount(0);

  await putOff(page, world, 'Blade');
  await putOff(page, world, 'Introducer of the bag');
  await putOff(page, world, 'Rod of the bag');
  await moveLine(page, 'Suture needle', { from: 'the table', to: 'to off the field' });
  world.shift('Suture needle', 'table', 'off');
  world.shift('Swab 10 × 10', 'table', 'off', 9); // into their bags: the tablet was not told
}

const asked = (line: string, see: World) => ({
  field: seen(see)(line, 'field'),
  off: seen(see)(line, 'off'),
});

async function closingCountDiffers(page: Page, world: World): Promise<void> {
  await at(page, '11:26');
  await press(page, 'Towards closing');
  await lastLook(page, 'Stays, and where is said');
  await at(page, '11:28');
  await press(page, 'Begin the closing count');
  expect(asked('Swab 10 × 10', world)).toEqual({ field: 4, off: 11 });
  expect(asked(tail, world)).toEqual({ field: 0, off: 5 });
  const blindAt = ['Swab 10 × 10/field', `${tail}/field`, `${tail}/off`];
  const looked: string[] = [];
  const lines = await countLines(page, seen(world), async (line, pass) => {
    if (!blindAt.includes(`${line}/${pass}`)) return;
    await expectBlind(page, 6, 'six');
    looked.push(`${line}/${pass}`);
  });
  expect(looked).toEqual(blindAt);
  expect(lines).toContain('Laparoscopic tray/field');
  await agreeCount(page, team);
}

async function refusedThenFound(page: Page, world: World): Promise<void> {
  await expect(heading(page, 'Count again')).toBeVisible();
  await expectBlind(page, 6, 'six');
  await press(page.getByRole('navigation', { name: 'Stations of the case' }), starting(fascia));
  await expect(holds(page)).toContainText(`${tail} does not agree`);
  await expect(holds(page)).toContainText('1 piece in the patient');
  await press(page, 'Ask to close');
  await expect(refusal(page)).toContainText('Not entered.');
  await understand(page);
  await expect(heading(page, /Do not close yet. 2 things are open./)).toBeVisible();

  await at(page, '11:29');
  await press(page, 'Recount');
  await recountTail(page, world);
  await expect(heading(page, 'Do not close. One missing.')).toBeVisible();
  const numbers = page.getByRole('main');
  await expect(numbers).toContainText(tail);
  await expect(numbers).toContainText(/Expected\s*6\s*Counted\s*5\s*Difference\s*−1/);
  await expect(expectBlind(page, 6, 'six')).rejects.toThrow(); // now the search needs the number
  await press(page, /Surgeon told, and says so/);
  await press(page, /Read the record back/);
  await expect(dialog(page).getByRole('listitem').first()).toContainText(tail);
  await press(dialog(page), 'Read back by both');
  await at(page, '11:32');
  world.shift(tail, 'inside', 'off'); // the seal is taken apart: it stuck to the inner flap
  await press(page, 'Found it');
  await choose(dialog(page), 'Where the record still has it', 'the abdomen');
  await choose(dialog(page), 'Where it is now', 'Off the field');
  await press(dialog(page), 'Found. Count it again');
  await recountTail(page, world);
  await press(page, 'Count it again');
  await recountTail(page, world);
  await press(page, 'To the frame');
  await expect(heading(page, 'Counting frame')).toBeAttached();
  expect(await shown(page, tail, 'off the field')).toBe(6);
  expect(await shown(page, tail, 'in the patient')).toBe(0);
}

async function recountTail(page: Page, world: World): Promise<void> {
  await expect(heading(page, 'Count again')).toBeVisible();
  const { field, off } = asked(tail, world);
  await tapNumber(page, field);
  await tapNumber(page, off);
  await press(page, 'Recount agreed');
}

async function closeFascia(page: Page, world: World): Promise<void> {
  await expect(holds(page)).toContainText("Surgeon's last look");
  await expect(holds(page)).toContainText('1 thing is open');
  await press(page, 'Towards closing');
  await lastLook(page, 'Stays, and where is said');
  await expect(heading(page, /Nothing open that I know of/).first()).toBeVisible();
  await press(page, 'Ask to close');
  await at(page, '11:36');
  await expect(heading(page, 'Counting frame')).toBeAttached();
  await portsOut(page, world);
}

async function closeSkin(page: Page, world: World): Promise<void> {
  await moveLine(page, 'Suture needle', { from: 'the table', to: 'to off the field', n: 2 });
  world.shift('Suture needle', 'table', 'off', 2);
  await putOff(page, world, 'Hypodermic needle');
  world.shift('Swab 10 × 10', 'table', 'off');
  await at(page, '11:42');
  await press(page, 'Towards closing');
  await answer(page, 'ports come out under vision', 'Yes');
  await expect(stepNow(page)).toContainText('Scrub'); // this one is not the surgeon's to answer
  await answer(page, 'each seal seen', 'Yes');
  await answer(page, 'fascia closed at every site', 'Closed at each');
  await press(page, 'Ask to close');
  await expect(refusal(page)).toContainText('Not entered.');

  await press(holds(page), /B Pus or peritoneal fluid not read back/);
  await readBack(page, team.scrub);
  await at(page, '11:44');
  await press(holds(page), /Final count not done/);
  await press(page, 'Begin the count');
  expect(asked('Swab 10 × 10', world)).toEqual({ field: 3, off: 12 });
  expect(asked('Suture needle', world)).toEqual({ field: 0, off: 3 });
  await countLines(page, seen(world));
  await agreeCount(page, team);
  await expect(holds(page)).toContainText('Nothing open that I know of');
  await press(page, 'Ask to close');
  await expect(heading(page, 'Counting frame')).toBeAttached();
}

async function leave(page: Page): Promise<void> {
  const weighed = { field: 'Weight of all together, wet', amount: '180', swabs: 12 };
  await measured(
    page,
    { what: 'In the suction', field: 'How much', amount: '3450' },
    { what: 'Swabs weighed', ...weighed },
  );
  await at(page, '11:47');
  await press(page, 'Sign out');
  await expect(holds(page)).toContainText('B Pus or peritoneal fluid not handed over');
  await expect(holds(page)).toContainText('Drain not handed over');
  await type(page, 'To whom', 'ward nurse');
  await type(page, 'When it comes out, and how', 'out when dry');
  await press(page.getByRole('main'), 'Handed over');
  await press(holds(page), /B Pus or peritoneal fluid not handed over/);
  await press(page, 'Laboratory runner');
  await press(page.getByRole('navigation', { name: 'Stations of the case' }), starting('Sign out'));
  await press(page, 'Everyone stops: begin');
  const name = stepNow(page).filter({ hasText: 'What did we do' });
  await type(name, 'Words for the record, if any', 'as planned');
  await press(name, 'Said aloud');
  await answer(page, 'equipment broken', 'None');
  await answer(page, 'what matters for recovery', 'Yes, said aloud');
  await answer(page, "antibiotic's stop", 'Yes, said aloud');
  await press(page, 'Sign out finished');
  await press(page, 'End the case');
}

/** In all, on the table, inside, off the field, stays, with the specimen, missing. */
const atTheEnd = [
  'Swab 10 × 10 15 3 0 12 0 0 0',
  'Suture needle 3 0 0 3 0 0 0',
  'Hypodermic needle 1 0 0 1 0 0 0',
  'Blade 1 0 0 1 0 0 0',
  'Laparoscopic tray 44 44 0 0 0 0 0',
  'Clip applicator 1 1 0 0 0 0 0',
  'Telescope 1 1 0 0 0 0 0',
  'Cannula 12 mm 1 1 0 0 0 0 0',
  'Seal 12 mm 1 1 0 0 0 0 0',
  'Cannula 5 mm 2 2 0 0 0 0 0',
  'Seal 5 mm 2 2 0 0 0 0 0',
  'Retrieval bag 1 0 0 1 0 0 0',
  'Culture swab stick 1 0 0 1 0 0 0',
  'Length of tie 2 2 0 0 0 0 0',
  'Knot of a tie 3 0 0 0 2 1 0',
  'Cut tail of a tie 6 0 0 6 0 0 0',
  'Polymer clip 6 2 0 1 2 1 0',
  'Cartridge of clips 1 1 0 0 0 0 0',
  'Drain 1 0 0 0 1 0 0',
  'Off-cut of a drain 1 0 0 1 0 0 0',
  'Faecolith 3 0 0 1 0 2 0',
] as const;

async function readRecord(page: Page): Promise<void> {
  const record = page.getByRole('article');
  await expect(
    heading(record, 'Reconciled: nothing was open that the record knows of.'),
  ).toBeVisible();
  await expect(record).toContainText(patient.name);
  for (const row of atTheEnd)
    await expect(record.getByRole('row', { name: row, exact: true })).toHaveCount(1);
  await expect(record).toContainText('drainage after perforation');
  await expect(record).toContainText(
    'Swabs 120 mL + suction less irrigation 450 mL = about 570 mL.',
  );
  await press(page, 'All cases');
  await expect(heading(page, 'Closed')).toBeVisible();
  await expect(button(page, /Bumblebee R. NOBODY.*Reconciled/)).toBeVisible();
}

/** Worked case F2 of the drills, phase by phase. */
export const caseF2: readonly Phase[] = [
  { name: 'opening', play: opening },
  { name: 'sign in, first count, time out', play: untilIncision },
  { name: 'ports, pus, swabs', play: entryAndPus },
  { name: 'three ties, one tail not seen', play: ties },
  { name: 'clips, one more pack of swabs', play: clips },
  { name: 'appendix in its pot, labelled, read back', play: appendixOut },
  { name: 'drain, needle box', play: drainAndBoxes },
  { name: 'closing count, blind', play: closingCountDiffers },
  { name: 'refused, searched, found', play: refusedThenFound },
  { name: 'fascia', play: closeFascia },
  { name: 'skin', play: closeSkin },
  { name: 'leaving', play: leave },
  { name: 'record', play: readRecord },
];
