/**
 * `npm run soak:full -- N`: the disk under a tablet is filled from outside in the middle of a case, and freed; N times
 * (2) in each of the ways below. While it is full the tablet must say within a second that the last entry is not kept,
 * hold closure, and offer the entry again; then nothing acknowledged may be lost, and nothing doubled, at two starts.
 * Exit 1 if anything was. Needs root, to mount a file system in memory; says so and ends with 0 where it cannot.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { expect, type Page } from '@playwright/test';
import { switchOnAgain, type Tablet } from '../browser/tablet.ts';
import { button, heading, hold, press, refusal } from '../browser/theatre.ts';
import { type SmallDisk, smallDisk } from './smallDisk.ts';
import {
  aim,
  backToFrame,
  beginCase,
  newProfile,
  readRecord,
  type Seen,
  serve,
  watchScreen,
} from './soakCase.ts';

const port = 4380;

type Way = {
  readonly name: string;
  /** The browser has promised to keep what this page stores, as it does for an installed one. */
  readonly isPromised: boolean;
  readonly ending: 'saved again' | 'killed' | 'killed and started';
};

const ways: readonly Way[] = [
  { name: 'freed, and saved again', isPromised: true, ending: 'saved again' },
  { name: 'killed while full', isPromised: true, ending: 'killed' },
  { name: 'killed and started while full', isPromised: true, ending: 'killed and started' },
  { name: 'no promise, freed, and saved again', isPromised: false, ending: 'saved again' },
  { name: 'no promise, killed while full', isPromised: false, ending: 'killed' },
];

const limitMs = 1000;
const wrong: string[] = [];
const disks = new Set<SmallDisk>();

/** What the browser writes down for an installed page that may keep its storage. */
function promise(profile: string, origin: string): void {
  const setting = { last_modified: '13370000000000000', setting: 1 };
  const exceptions = { durable_storage: { [`${origin},*`]: setting } };
  mkdirSync(join(profile, 'Default'), { recursive: true });
  writeFileSync(
    join(profile, 'Default', 'Preferences'),
    JSON.stringify({ profile: { content_settings: { exceptions } } }),
  );
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const isNotSaved = (page: Page) => button(page, 'Save again').isVisible();

/** Measures in the page how long after a touch it says that an entry is not saved. */
const watchAlarm = (page: Page) =>
  page.evaluate(() => {
    let touchedAt = 0;
    addEventListener('pointerdown', () => (touchedAt = performance.now()), { capture: true });
    const look = (): void => {
      if (document.querySelector('.band-alarm') && !('saidAfterMs' in window))
        Reflect.set(window, 'saidAfterMs', performance.now() - touchedAt);
    };
    new MutationObserver(look).observe(document.body, { childList: true, subtree: true });
  });

/** Taps, each answered before the next, until one is not saved. Answers how many milliseconds that took to be said. */
async function tapUntilSaid(page: Page, seen: Seen): Promise<number> {
  await watchAlarm(page);
  const tapAway = await aim(page);
  for (let tap = 0; tap < 200; tap += 2) {
    let before = seen.changes;
    const settled = async (): Promise<boolean> => {
      for (let waited = 0; waited < 3000; waited += 20) {
        if ((await isNotSaved(page)) || seen.changes > before) break;
        await wait(20);
      }
      if (!(await isNotSaved(page)) && seen.changes === before)
        throw new Error('a tap was neither kept nor said to be lost');
      before = seen.changes;
      return isNotSaved(page);
    };
    let taps = 0;
    let isSaid = false;
    await tapAway(() => {
      taps += 1;
      return taps > 1;
    });
    isSaid = await settled();
    if (!isSaid) {
      await press(page, 'Take back');
      isSaid = await settled();
    }
    if (isSaid) return page.evaluate(() => Number(Reflect.get(window, 'saidAfterMs')));
  }
  throw new Error('the disk is full and 200 taps were kept');
}

/** Closure is held, the entry stays offered, and nothing else is taken meanwhile. */
async function lookWhileFull(page: Page, seen: Seen): Promise<void> {
  await expect(heading(page, 'Closure is held')).toBeVisible();
  await expect(hold(page, 'Not saved')).toBeVisible();
  const before = seen.changes;
  await press(page, 'Save again');
  await wait(1500);
  await expect(button(page, 'Save again')).toBeVisible();
  await press(page, 'Towards closing');
  await press(page, 'Ask to close');
  // It waits behind "Save again", which gives up only after some seconds where the disk does not answer.
  await expect(refusal(page).filter({ hasText: 'not saved yet' })).toBeVisible({ timeout: 30_000 });
  await expect(heading(page, 'Do not close yet')).toBeVisible();
  await press(page, 'To the frame');
  await expect(button(page, 'Save again')).toBeVisible();
  expect(seen.changes).toBe(before);
}

/** There is room again. Answers how often it had to be tapped; undefined where that did not help. */
async function saveAgain(page: Page, seen: Seen): Promise<number | undefined> {
  const before = seen.changes;
  for (let tap = 1; tap <= 5; tap += 1) {
    await press(page, 'Save again');
    for (let waited = 0; waited < 2000 && (await isNotSaved(page)); waited += 50) await wait(50);
    if (await isNotSaved(page)) continue;
    await expect.poll(() => seen.changes).toBe(before + 1);
    return tap;
  }
  return undefined;
}

/**
 * A browser that promised nothing may have thrown the storage away under the open page, and take nothing from it any
 * more. It says what to do then: the case is taken out as a file, and is brought in after a new start.
 */
async function takeOutAndBringIn(open: Tablet, { profile, origin }: Where, seen: number) {
  const { page } = open;
  await expect(refusal(page).filter({ hasText: 'take the case out as a file' })).toBeVisible();
  const { rows, text, file } = await readRecord(page);
  if (rows !== seen) wrong.push(`taken out: ${rows} rows, ${seen} were acknowledged`);
  await open.kill();
  const tablet = await switchOnAgain(profile, origin);
  const bring = tablet.page.getByLabel('Bring in a case');
  await expect(bring.or(button(tablet.page, 'Take back'))).toBeAttached({ timeout: 15_000 });
  if ((await bring.count()) > 0) {
    await bring.setInputFiles({ name: 'case.txt', mimeType: 'text/plain', buffer: file });
    const said = tablet.page.getByText(/The case was brought in whole|is on the tablet already/);
    await expect(said).toBeVisible({ timeout: 15_000 });
  }
  await goOn(tablet);
  const again = await readRecord(tablet.page);
  if (again.text !== text) wrong.push('brought in: another record than was taken out');
  console.log(`  taken out as a file and brought in after a new start: ${again.rows} rows`);
  await tablet.kill();
}

/** A tablet whose storage was thrown away comes back on its first page. */
async function goOn({ page }: Tablet): Promise<void> {
  const listed = page.locator('.start-case').first();
  const isOpen = button(page, 'Take back').or(button(page, 'Take out as a file'));
  await expect(listed.or(isOpen)).toBeVisible();
  if (await listed.isVisible()) await listed.tap();
  await expect(isOpen).toBeVisible();
}

async function startTwice(way: Way, at: { profile: string; origin: string }, seen: number) {
  let first = '';
  for (const start of ['first', 'second']) {
    const tablet = await switchOnAgain(at.profile, at.origin);
    await goOn(tablet);
    const { rows, text } = await readRecord(tablet.page);
    // One more may have been on its way when the browser was killed.
    if (rows < seen || rows > seen + 1)
      wrong.push(`${way.name}: ${rows} rows at the ${start} start, ${seen} were acknowledged`);
    if (first && text !== first) wrong.push(`${way.name}: the second start shows another record`);
    first = text;
    await tablet.kill();
    console.log(`  ${start} start: ${rows} rows, ${seen} acknowledged`);
  }
}

async function play(way: Way, disk: SmallDisk, origin: string): Promise<void> {
  const { profile } = newProfile(disk.folder);
  if (way.isPromised) promise(profile, origin);
  const tablet = await beginCase(profile, origin);
  try {
    await playOn(way, tablet, { disk, profile, origin });
  } finally {
    await tablet.kill().catch(() => undefined);
  }
  for (const what of tablet.wrong) wrong.push(`${way.name}: ${what}`);
}

type Where = { readonly disk: SmallDisk; readonly profile: string; readonly origin: string };

async function playOn(way: Way, tablet: Tablet, { disk, profile, origin }: Where): Promise<void> {
  const { page } = tablet;
  const isPromised = await page.evaluate(() => navigator.storage.persisted());
  if (isPromised !== way.isPromised) throw new Error(`the browser's promise is ${isPromised}`);
  const { rows } = await readRecord(page);
  await backToFrame(page);
  const seen = await watchScreen(page);
  disk.fill();
  const saidMs = await tapUntilSaid(page, seen);
  console.log(
    `  ${seen.changes} entries kept, then not saved: said after ${Math.round(saidMs)} ms`,
  );
  if (!(saidMs <= limitMs)) wrong.push(`${way.name}: said after ${Math.round(saidMs)} ms`);
  await lookWhileFull(page, seen);
  if (way.ending === 'saved again') {
    disk.free();
    const taps = await saveAgain(page, seen);
    if (taps === undefined) {
      console.log('  freed: it cannot be saved again in this page');
      if (way.isPromised) throw new Error('it cannot be saved although there is room again');
      return takeOutAndBringIn(tablet, { disk, profile, origin }, rows + seen.changes);
    }
    console.log(`  freed: saved after ${taps} taps on "Save again"`);
    const end = Date.now() + 300;
    const tapAway = await aim(page);
    await tapAway(() => Date.now() > end);
  }
  await tablet.kill();
  if (way.ending === 'killed and started') {
    const full = await switchOnAgain(profile, origin);
    await wait(4000);
    const words = await full.page.locator('#root').textContent();
    console.log(`  started while full: ${words?.slice(0, 300)}`);
    await full.kill();
  }
  disk.free();
  if (!way.isPromised && way.ending === 'killed') await sayWhatIsLeft({ profile, origin });
  else await startTwice(way, { profile, origin }, rows + seen.changes);
}

/** Nothing can be done about this one: it is shown for comparison, and the first page warned of it. */
async function sayWhatIsLeft({ profile, origin }: { profile: string; origin: string }) {
  const tablet = await switchOnAgain(profile, origin);
  // A database that was deleted is waited for at the start, no longer than ten seconds.
  const warning = tablet.page.getByText('has not promised to keep the record');
  const open = button(tablet.page, 'Take back');
  await expect(warning.or(open)).toBeVisible({ timeout: 15_000 });
  const cases = await tablet.page.locator('.start-case').count();
  console.log(
    (await open.isVisible())
      ? '  the browser promised nothing and kept all: the case is open still'
      : `  the browser promised nothing, and the first page says so: ${cases} cases left`,
  );
  await tablet.kill();
}

const { positionals } = parseArgs({ allowPositionals: true });
const times = Number(positionals[0] ?? 2);
const meant = ways.filter(({ name }) => positionals.slice(1).every((part) => name.includes(part)));
const { origin, stop } = await serve(port);
let played = 0;
for (const way of meant.flatMap((one) => Array.from({ length: times }, () => one))) {
  const disk = smallDisk(200);
  if (!disk) break;
  disks.add(disk);
  console.log(way.name);
  await play(way, disk, origin).catch((error) =>
    wrong.push(`${way.name}: ${String(error).slice(0, 3000)}`),
  );
  disk.remove();
  played += 1;
}
await stop();
for (const what of wrong) console.log(what);
console.log(
  played === 0
    ? 'Left out: only root may mount a file system in memory, on a machine that allows it.'
    : `A disk was full ${played} times, two starts each: ${wrong.length} things wrong.`,
);
process.exit(wrong.length > 0 ? 1 : 0);
