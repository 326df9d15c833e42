/** A laparoscopic appendicectomy as people name it: lines, what is opened, and what is done again and again. */
import { expect, type Page } from '@playwright/test';
import {
  act,
  agreeCount,
  answer,
  bringInSight,
  button,
  choose,
  countLines,
  dialog,
  foot,
  heading,
  isTappable,
  onPad,
  press,
  seen,
  shown,
  starting,
  type Team,
  tapPiece,
} from './theatre.ts';
import type { World } from './world.ts';

/** The time of day of a worked case: in most of them the incision is at 10:00. */
export const at = (page: Page, time: string): Promise<void> =>
  page.clock.setSystemTime(`2026-01-05T${time}:00Z`);

/** What lies open at the first count (worked case F2 of the drills). */
const opened: readonly (readonly [string, number])[] = [
  ['Swab 10 × 10', 10],
  ['Suture needle', 2],
  ['Hypodermic needle', 1],
  ['Blade', 1],
  ['Laparoscopic tray', 44],
  ['Telescope', 1],
  ['Cannula 12 mm', 1],
  ['Obturator 12 mm', 1],
  ['Cone 12 mm', 1],
  ['Seal 12 mm', 1],
  ['Reducer 12 mm', 1],
  ['Cannula 5 mm', 2],
  ['Obturator 5 mm', 2],
  ['Seal 5 mm', 2],
  ['Retrieval bag', 1],
  ['Introducer of the bag', 1],
  ['Rod of the bag', 1],
  ['Tip cleaner pad', 1],
  ['Lens wipe', 1],
];

/** Parts of the ports that sit in the wall: seven pieces. */
const inTheWall: readonly (readonly [string, number])[] = [
  ['Cannula 12 mm', 1],
  ['Cone 12 mm', 1],
  ['Seal 12 mm', 1],
  ['Cannula 5 mm', 2],
  ['Seal 5 mm', 2],
];

export function layOut(world: World): void {
  for (const [line, pieces] of opened) world.put(line, 'table', pieces);
}

export async function firstCount(
  page: Page,
  world: World,
  team: Team,
  how: { readonly atAgree?: () => Promise<void> } = {},
): Promise<void> {
  await press(page, 'Begin the count');
  const asked = await countLines(page, seen(world));
  expect(asked.toSorted()).toEqual(opened.map(([line]) => `${line}/field`).toSorted());
  await how.atAgree?.();
  await agreeCount(page, team);
  await expect(heading(page, 'Time out')).toBeVisible();
}

/** The frame starts from what the first count saw. */
export async function expectAsOpened(page: Page): Promise<void> {
  await expect(heading(page, 'Counting frame')).toBeAttached();
  for (const [line, pieces] of opened) expect(await shown(page, line, 'on the table')).toBe(pieces);
}

export async function portsIn(page: Page, world: World): Promise<void> {
  for (const [line, pieces] of inTheWall)
    for (let n = 0; n < pieces; n += 1) {
      await tapPiece(page, line, 'on the table');
      world.shift(line, 'table', 'in sight');
    }
}

export async function portsOut(page: Page, world: World): Promise<void> {
  for (const [line, pieces] of inTheWall)
    for (let n = 0; n < pieces; n += 1) {
      await tapPiece(page, line, 'in the patient');
      world.shift(line, 'in sight', 'table');
    }
}

/** The ports as sets: what sits together goes together, in one tap. */
const sets: readonly (readonly [group: string, times: number])[] = [
  ['Port 12 mm', 1],
  ['Port 5 mm', 2],
];

async function moveSets(page: Page, way: 'in' | 'out'): Promise<void> {
  for (const [group, times] of sets)
    for (let n = 0; n < times; n += 1) {
      const key = button(page, starting(`${group}, One set ${way}`));
      if (!(await isTappable(key))) await bringInSight(page, group.replace('Port', 'Cannula'));
      const last = foot(page).getByRole('status');
      await key.tap();
      await expect(last).toContainText('Seal');
      await page.waitForTimeout(100); // three entries, one after another
    }
}

export async function portSetsIn(page: Page, world: World): Promise<void> {
  await moveSets(page, 'in');
  for (const [line, pieces] of inTheWall) {
    world.shift(line, 'table', 'in sight', pieces);
    expect(await shown(page, line, 'in the patient')).toBe(pieces);
  }
}

export async function portSetsOut(page: Page, world: World): Promise<void> {
  await moveSets(page, 'out');
  for (const [line, pieces] of inTheWall) {
    world.shift(line, 'in sight', 'table', pieces);
    expect(await shown(page, line, 'in the patient')).toBe(0);
  }
}

export async function passIn(page: Page, world: World, line: string, n = 1): Promise<void> {
  for (let piece = 0; piece < n; piece += 1) {
    await tapPiece(page, line, 'on the table');
    world.shift(line, 'table', 'inside');
  }
}

/** Out of the patient, seen; off the field, or back on the table what is part of a set. */
export async function passOut(
  page: Page,
  world: World,
  line: string,
  n = 1,
  to: 'off' | 'table' = 'off',
): Promise<void> {
  for (let piece = 0; piece < n; piece += 1) {
    await tapPiece(page, line, 'in the patient');
    world.shift(line, 'inside', to);
  }
}

/** Something that is only counted goes into its box or bag. */
export async function putOff(page: Page, world: World, line: string): Promise<void> {
  await tapPiece(page, line, 'on the table');
  world.shift(line, 'table', 'off');
}

/** One length goes in and is tied: a knot and two cut tails. `seenOut` tails come out in sight. */
export async function tie(
  page: Page,
  world: World,
  how: { readonly on: 'base' | 'specimen'; readonly seenOut: number },
): Promise<void> {
  const words = { base: 'Tied and trimmed', specimen: 'Tied on the specimen side and trimmed' };
  await passIn(page, world, 'Length of tie');
  await act(page, 'Length of tie', words[how.on]);
  world.take('Length of tie', 'inside', 1);
  world.put('Knot of a tie', how.on === 'base' ? 'gone' : 'inside', 1);
  world.put('Cut tail of a tie', 'inside', 2);
  await passOut(page, world, 'Cut tail of a tie', how.seenOut);
}

/** The surgeon's last look before the abdomen is closed, step by step; `drain` says whether one stays. */
export async function lastLook(
  page: Page,
  drain: 'None' | 'Stays, and where is said',
): Promise<void> {
  await answer(page, 'stump secure', 'Yes');
  await answer(page, 'mesoappendix dry', 'Dry');
  await answer(page, 'fluid sucked out', 'Done');
  await answer(page, 'heat marks', 'Looked at, nothing found');
  await answer(page, 'every faecolith', 'Yes');
  await answer(page, 'After a look round', 'Yes');
  await answer(page, 'Does a drain stay', drain);
  await answer(page, 'not said yet', 'Nothing');
}

export async function contain(page: Page, team: Team): Promise<void> {
  await press(page, `In its pot, seen by ${team.scrub} and ${team.circulator}`);
  await expect(page.getByText('Every field read: the label says this')).toBeVisible();
}

export async function readBack(page: Page, by: string): Promise<void> {
  await press(page, starting(`${by} read it: it is so`));
  await expect(page.getByText('Who takes it, with the form?')).toBeVisible();
}

type Measured = {
  readonly what: string;
  readonly amount: string;
  readonly field?: string;
  /** As many as the tablet says lie off the field, not weighed yet. */
  readonly swabs?: number;
  /** Which swabs were weighed, where it is not the first line of them. */
  readonly line?: string;
};

/** Blood and fluids, on the pad, one after another. */
/** What is measured next stands there by itself, or is chosen. */
async function askedFor(page: Page, what: string): Promise<void> {
  const list = dialog(page).getByRole('group', { name: 'What was measured' });
  const emptyPad = dialog(page).locator('.pad-number', { hasText: '–' });
  await expect
    .poll(async () => (await list.isVisible()) || (await emptyPad.isVisible()))
    .toBe(true);
  if (await dialog(page).getByRole('heading', { name: what, exact: true }).isVisible()) return;
  if (await emptyPad.isVisible()) await press(dialog(page), 'Something else…');
  await choose(dialog(page), 'What was measured', what);
}

export async function measured(page: Page, ...all: readonly Measured[]): Promise<void> {
  const atOnce = button(page, 'Blood and fluids');
  if (await atOnce.isVisible()) await atOnce.tap();
  else {
    await press(page, 'More…');
    await choose(dialog(page), 'What happened?', 'Blood and fluids');
  }
  for (const [index, { what, amount, field, swabs, line }] of all.entries()) {
    await askedFor(page, what);
    if (line !== undefined) await choose(dialog(page), 'Which swabs', line);
    if (swabs !== undefined)
      await expect(dialog(page).locator('.stepper-number')).toHaveText(`${swabs}`);
    if (field !== undefined) await expect(dialog(page)).toContainText(field);
    const isLast = index === all.length - 1;
    await onPad(dialog(page), amount, isLast ? 'Write it down' : 'Write it, then another');
  }
  await expect(dialog(page)).toHaveCount(0);
}
