/**
 * What people do at the tablet: by touch, and by what is written on it. Text is typed only where a
 * person must type, which is a name or a number of the patient.
 */
import {
  type BrowserContext,
  test as base,
  expect,
  type Locator,
  type Page,
} from '@playwright/test';
import type { World } from './world.ts';

/** A page, or a part of it in which a name is meant. */
export type Part = Page | Locator;

export type Team = {
  readonly scrub: string;
  readonly circulator: string;
  readonly surgeon: string;
  readonly anaesthetist: string;
};

export type Patient = {
  readonly name: string;
  readonly number: string;
  readonly born: string;
  readonly weight?: string;
};

/** Every request that left the origin, and every fault of the page. Both must stay empty. */
export function watch(context: BrowserContext, origin: string): readonly string[] {
  const wrong: string[] = [];
  context.on('request', (request) => {
    const { protocol, origin: asked } = new URL(request.url());
    if (/^(https?|wss?):$/.test(protocol) && asked !== origin)
      wrong.push(`asked for ${request.url()}`);
  });
  context.on('weberror', (fault) => wrong.push(`fault: ${fault.error().message}`));
  return wrong;
}

/** A test that fails when a request leaves the origin, or when the page has a fault. */
export const test = base.extend<{
  readonly ownOriginOnly: undefined;
}>({
  ownOriginOnly: [
    async ({ context, baseURL }, use) => {
      const wrong = watch(context, new URL(baseURL ?? '').origin);
      await use(undefined);
      expect(wrong).toEqual([]);
    },
    { auto: true },
  ],
});

/** Words as the beginning of a name: `Off the field` also finds what has a detail behind it. */
export const starting = (words: string): RegExp =>
  new RegExp(`^${words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(?![\\w-])`);

export const button = (part: Part, words: string | RegExp): Locator =>
  part.getByRole('button', { name: words, exact: true });

/** One tap on the button of that name. */
export const press = (part: Part, words: string | RegExp): Promise<void> =>
  tapSeen(part, button(part, words));

/** Puts a notice away, once a person can have seen it: sooner it takes no tap. */
export async function understand(page: Page): Promise<void> {
  await expect(button(page, 'Understood')).toBeVisible();
  await new Promise((resolve) => setTimeout(resolve, 700));
  await press(page, 'Understood');
}

/** One of the large buttons under a question. */
export const choose = (part: Part, question: string, answer: string): Promise<void> =>
  tapSeen(
    part,
    part
      .getByRole('group', { name: question, exact: true })
      .getByRole('button', { name: starting(answer) }),
  );

/**
 * Taps what can be seen. The test's own tap would scroll to what cannot, which no gloved finger does: pages are turned
 * with their keys, so that they count as taps, and what no key brings into sight fails.
 */
async function tapSeen(part: Part, target: Locator): Promise<void> {
  await expect(target).toBeVisible();
  await turnTo(part, target, isSeen);
  expect(await isSeen(target), 'in sight').toBe(true);
  await target.tap();
}

type IsThere = (target: Locator) => Promise<boolean>;

/** Turns the pages of a list, by its keys, until a part of it is there or no key is left. */
async function turnTo(part: Part, target: Locator, isThere: IsThere): Promise<void> {
  for (let pages = 0; pages < 12 && !(await isSoon(target, isThere)); pages += 1) {
    if (!(await target.evaluate(markPageKey))) return;
    await part.locator('[data-turned]').tap();
  }
}

/** Marks the key that turns a list towards a part of it; answers whether there is one. It runs in the page. */
function markPageKey(element: Element): boolean {
  for (const marked of document.querySelectorAll('[data-turned]'))
    marked.removeAttribute('data-turned');
  const room = element.closest('dialog, .scroller');
  const view = room?.querySelector('.scroller-view')?.getBoundingClientRect();
  const isAbove = view && element.getBoundingClientRect().top < view.top + view.height / 2;
  const way = isAbove ? 'up' : 'down';
  // The frame has a key for each stretch of it.
  const wire = element.closest('.wire') ?? element.closest('.wire-group')?.querySelector('.wire');
  const key =
    room?.querySelector(`.index-key[data-lines~="${wire?.getAttribute('data-line')}"]`) ??
    room?.querySelector(`:scope > .scroller-keys > [data-way="${way}"]`);
  key?.setAttribute('data-turned', '');
  return key !== null && key !== undefined;
}

/** What has just come may still be on its way. Units: milliseconds. */
async function isSoon(target: Locator, isThere: IsThere): Promise<boolean> {
  for (let tries = 0; tries < 6; tries += 1) {
    if (await isThere(target)) return true;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return false;
}

/** Whether the middle of it lies in the room of its list, and in the window. */
const isSeen = (target: Locator): Promise<boolean> =>
  target.evaluate((element) => {
    const { top, bottom } = element.getBoundingClientRect();
    const middle = (top + bottom) / 2;
    // The screen below an open dialog has lists of its own.
    const view = element.closest('dialog, .scroller-view')?.getBoundingClientRect();
    const room = {
      top: Math.max(0, view?.top ?? 0),
      bottom: Math.min(innerHeight, view?.bottom ?? innerHeight),
    };
    return middle > room.top && middle < room.bottom;
  });

export async function type(part: Part, field: string, words: string): Promise<void> {
  const box = part.getByRole('textbox', { name: field, exact: true });
  await box.tap();
  await box.fill(words);
}

/**
 * A page of fields: a tap into the first, where it does not wait for it, then the key of the keyboard that goes on to
 * the next.
 */
export async function typeAll(
  part: Part,
  fields: readonly (readonly [field: string, words: string])[],
): Promise<void> {
  for (const [index, [field, words]] of fields.entries()) {
    const box = part.getByRole('textbox', { name: field, exact: true });
    const isThere = await box.evaluate((field) => field === document.activeElement);
    if (index === 0 && !isThere) await box.tap();
    await expect(box).toBeFocused();
    await box.fill(words);
    await box.press('Enter');
  }
}

/** A number on the pad, digit by digit, and the key that gives it. */
export async function onPad(part: Part, number: string, give: string): Promise<void> {
  for (const digit of number) await press(part, digit);
  await press(part, give);
}

export const dialog = (page: Page): Locator => page.getByRole('dialog');

export const heading = (part: Part, words: string | RegExp): Locator =>
  part.getByRole('heading', { name: words });

/** The list of what is open, as it stands beside every screen of a case. */
export const holds = (page: Page): Locator => page.getByRole('complementary');

/** One thing that is open, by the beginning of its words. */
export const hold = (page: Page, words: string): Locator =>
  holds(page).getByRole('listitem').filter({ hasText: words });

export const foot = (page: Page): Locator => page.getByRole('contentinfo');

/** The sentence that says why an entry was not made. */
export const refusal = (page: Page): Locator => page.getByRole('alert');

/** Until the page can be opened again without its server. */
export const untilOffline = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });

export async function openCase(
  page: Page,
  said: {
    readonly patient: Patient;
    readonly team: Team;
    readonly sheet?: string;
    readonly stump?: string;
    /** What is chosen in the plan, by its question. */
    readonly plan?: readonly (readonly [question: string, answer: string])[];
    /** The allergies were said already, or are left for sign in. */
    readonly hasAllergiesLeft?: boolean;
  },
): Promise<void> {
  await choose(page, 'Sheet', said.sheet ?? 'Laparoscopic appendicectomy');
  if (said.stump !== undefined) await press(page, said.stump);
  for (const [question, words] of said.plan ?? []) await choose(page, question, words);
  await press(page, 'Next');
  await typeAll(page, [
    ['Name', said.patient.name],
    ['Patient number', said.patient.number],
    ['Born', said.patient.born],
    ['Weight, kg', said.patient.weight ?? ''],
  ]);
  if (said.hasAllergiesLeft !== true) await press(page, 'None known');
  await press(page, 'Next');
  await typeAll(page, [
    ['Scrub', said.team.scrub],
    ['Circulator', said.team.circulator],
    ['Surgeon', said.team.surgeon],
    ['Anaesthetist', said.team.anaesthetist],
  ]);
  await press(page, 'Open the case');
  await expect(heading(page, 'Sign in')).toBeVisible();
}

/** The step that is read aloud now. */
export const stepNow = (page: Page): Locator =>
  page.getByRole('main').locator('[aria-current="step"]');

/** One answer to the step of the moment; done when that step is no longer the one asked. */
export async function answer(page: Page, asked: string | RegExp, words: string): Promise<void> {
  const step = stepNow(page).filter({ hasText: asked });
  await press(step, words);
  await expect(step).toHaveCount(0);
}

type AtScreen = () => Promise<void>;

export async function signIn(
  page: Page,
  how: {
    readonly isBegun?: boolean;
    readonly atAllergy?: AtScreen;
    readonly atBloodLoss?: AtScreen;
  } = {},
): Promise<void> {
  if (how.isBegun !== true) await press(page, 'Everyone stops: begin');
  await answer(page, 'say your name', 'Yes, said aloud');
  await answer(page, 'place marked', 'Yes, said aloud');
  await answer(page, 'machine, the airway', 'Yes, said aloud');
  await answer(page, 'oximeter', 'Yes, said aloud');
  await how.atAllergy?.();
  await answer(page, 'allergy', 'None known');
  await answer(page, 'difficult airway', 'Not expected');
  const blood = stepNow(page).filter({ hasText: 'How much blood' });
  await how.atBloodLoss?.();
  await press(blood, '50');
  await answer(page, 'inside already', 'Nothing');
  await press(page, 'Sign in finished');
}

export async function timeOut(
  page: Page,
  said: {
    readonly agent: string;
    readonly minutesAgo: string;
    readonly faecoliths: string;
    readonly atDose?: AtScreen;
    readonly atFaecoliths?: AtScreen;
  },
): Promise<void> {
  await press(page, 'Everyone stops: begin');
  await answer(page, 'their name and their role', 'Yes, said aloud');
  await answer(page, 'say patient, procedure', 'Yes, said aloud');
  await choose(page, 'Which', said.agent);
  await said.atDose?.();
  await answer(page, 'antibiotic', said.minutesAgo);
  await answer(page, 'steps that worry you', 'Yes, said aloud');
  await answer(page, 'what worries you about', 'Yes, said aloud');
  await answer(page, 'indicators turn', 'Indicators turned, nothing wrong');
  await answer(page, 'images shown', 'Yes, said aloud');
  await said.atFaecoliths?.();
  await answer(page, 'How many faecoliths', said.faecoliths);
  await press(page, 'Time out finished');
}

/** The stretch of a wire: where pieces of a line lie, as the frame says it. */
export const stretch = (page: Page, line: string, place: string): Locator =>
  page.getByRole('button', { name: starting(`${line}, ${place}:`) });

/** What the frame says lies there. */
export async function shown(page: Page, line: string, place: string): Promise<number> {
  return Number(await stretch(page, line, place).locator('.stretch-number').textContent());
}

/** How often to look again. Units: milliseconds. */
const soon = { intervals: [10, 20, 40, 80, 160] };

/** Turns pages until the wire can be tapped, the shorter way: the order of the sheet is known, and never changes. */
export const bringInSight = (page: Page, line: string): Promise<void> =>
  turnTo(page, page.getByRole('listitem', { name: line, exact: true }), isTappable);

/** Something of the frame that lies whole between its head and its keys. */
export const isTappable = (wire: Locator): Promise<boolean> =>
  wire.evaluate((element) => {
    const { top, bottom } = element.getBoundingClientRect();
    const view = element.closest('.scroller-view')?.getBoundingClientRect();
    const head = element.closest('.frame')?.querySelector('.frame-head')?.clientHeight ?? 0;
    return view === undefined || (top >= view.top + head - 4 && bottom <= view.bottom + 4);
  });

/** One tap moves one piece; done when the frame shows it. */
export async function tapPiece(page: Page, line: string, place: string): Promise<void> {
  await bringInSight(page, line);
  const before = await shown(page, line, place);
  await stretch(page, line, place).tap();
  await expect.poll(() => shown(page, line, place), soon).toBe(before - 1);
}

/** The acts of the line in hand, in the foot. */
export const inHand = (page: Page, line: string): Locator =>
  page.getByRole('group', { name: `Actions for ${line}`, exact: true });

/** Takes a line in hand, unless it is. New buttons take no tap for a moment. Units: milliseconds. */
async function take(page: Page, line: string): Promise<Locator> {
  const acts = inHand(page, line);
  if (!(await acts.isVisible())) {
    await bringInSight(page, line);
    const wire = page.getByRole('listitem', { name: line, exact: true });
    await wire.getByRole('button', { name: /, more actions$/ }).tap();
  }
  await expect(acts).toBeVisible();
  await page.waitForTimeout(320);
  return acts;
}

/** Opens all that can be done with a line. */
export async function openLine(page: Page, line: string): Promise<Locator> {
  await press(await take(page, line), `Other acts for ${line}`);
  await expect(dialog(page)).toBeVisible();
  return dialog(page);
}

/** One tap on an act of the line in hand; done when it is entered. */
export async function act(page: Page, line: string, what: string | RegExp): Promise<void> {
  const last = foot(page).getByRole('status');
  const before = await last.getAttribute('data-entry');
  await press(await take(page, line), what);
  await expect(last).not.toHaveAttribute('data-entry', before ?? '');
}

/** A turn of a line that asks how many: a reel is cut into lengths. */
export async function turn(page: Page, line: string, what: string): Promise<void> {
  await press(await openLine(page, line), what);
  await expect(dialog(page)).toHaveCount(0);
}

/** A move that no single tap makes, on the line's own sheet. */
export async function moveLine(
  page: Page,
  line: string,
  how: { readonly from: string; readonly to: string; readonly n?: number },
): Promise<void> {
  const sheet = await openLine(page, line);
  for (let n = 1; n < (how.n ?? 1); n += 1) await press(sheet, 'How many: one more');
  await press(sheet.locator('.row', { hasText: `From ${how.from}` }), how.to);
  await expect(dialog(page)).toHaveCount(0);
}

/** Something is opened onto the field, as it comes. */
export async function addToField(page: Page, line: string, team: Team): Promise<void> {
  await press(page, 'Add to field');
  await press(dialog(page), starting(line));
  await press(dialog(page), `Both saw it: ${team.scrub} and ${team.circulator}`);
  await expect(dialog(page)).toHaveCount(0);
}

/** The lines of the count that runs. */
export const counting = (page: Page): Locator => page.locator('section.count');

/** Which line is counted, as the page says it aloud. */
async function lineAsked(page: Page): Promise<string> {
  const said = counting(page).locator('[aria-live="polite"]');
  return (await said.textContent()) ?? '';
}

let lastKey = { digit: '', at: 0 };

/** A wet glove bounces, so the tablet drops the same digit within 0.2 s. A person is slower. */
async function tapDigit(page: Page, words: string): Promise<void> {
  const digit =
    words.at(-1) === '0' && words.length > 1 ? (words.at(-2) ?? '') : (words.at(-1) ?? '');
  const isSame = lastKey.digit === digit || words.length > 1;
  if (isSame) await page.waitForTimeout(Math.max(0, lastKey.at + 220 - Date.now()));
  await press(page.getByRole('group', { name: 'The number of pieces in sight' }), words);
  lastKey = { digit, at: Date.now() };
}

/** One tap up to nine; above that the tens, then the ones. */
export async function tapNumber(page: Page, pieces: number): Promise<void> {
  if (pieces > 9) {
    // A large tray begins with the tens.
    const longer = button(page, 'Numbers 10+');
    if (await longer.isVisible()) await longer.tap();
    await tapDigit(page, `${Math.floor(pieces / 10) * 10}`);
  }
  await tapDigit(page, `${pieces}`);
}

export type Pass = 'field' | 'off';

/** The parts that one question asks for, so many of each. */
const partsNamed = (asked: string): readonly string[] | undefined =>
  / Of each: (.+)$/.exec(asked.replaceAll('\u00a0', ' '))?.[1]?.split(' · ');

/** What the two people see of a line: in the wall in sight and on the table, or off the field. */
export type See = (line: string, pass: Pass) => number;

export const seen =
  (world: World): See =>
  (line, pass) =>
    pass === 'off' ? world.at(line, 'off') : world.at(line, 'table') + world.at(line, 'in sight');

/** Counts every line that is asked, and answers which were; `atEach` looks at the page before each number. */
export async function countLines(
  page: Page,
  see: See,
  atEach: (line: string, pass: Pass) => Promise<void> = async () => {},
): Promise<readonly string[]> {
  const asked: string[] = [];
  const parts = counting(page).locator('[aria-current="step"]');
  const done = page.getByText('Every line has a number.');
  while (!(await done.isVisible())) {
    const line = await lineAsked(page);
    const pass = (await parts.textContent())?.includes('Off the field') ? 'off' : 'field';
    await atEach(line, pass);
    // At the first count each pack of a line is counted by itself; those of a case are whole.
    const [, one = line, packs = '1'] = /^(.*), pack \d+ of (\d+)$/.exec(line) ?? [];
    const named = partsNamed(line) ?? [one];
    const [pieces = 0, ...others] = new Set(named.map((part) => see(part, pass)));
    if (others.length > 0) await press(page, 'Not alike: one by one');
    else {
      await tapNumber(page, pieces / Number(packs));
      for (const part of named)
        if (!asked.includes(`${part}/${pass}`)) asked.push(`${part}/${pass}`);
    }
    await expect
      .poll(async () => (await done.isVisible()) || (await lineAsked(page)) !== line, soon)
      .toBe(true);
  }
  return asked;
}

/** Both people agree the count by name. */
export async function agreeCount(page: Page, team: Team): Promise<void> {
  // Looked over from its first number on.
  await expect.poll(() => isSeen(page.locator('.count-line').first()), soon).toBe(true);
  await press(page, `${team.scrub} agrees`);
  await press(page, `${team.circulator} agrees`);
}
