/** A short case on a tablet that is killed and started again: how it is begun, tapped and read. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page } from '@playwright/test';
import { preview } from 'vite';
import { verifyFile } from '#session/verifyFile.ts';
import { switchOn, type Tablet } from '../browser/tablet.ts';
import {
  countFirst,
  openTeachingCase,
  signInShort,
  untilOperating,
} from '../browser/teachingCase.ts';
import { button, press, starting, stretch } from '../browser/theatre.ts';

const swab = 'Swab 10 × 10';

/** The built program on loopback. */
export async function serve(port: number) {
  if (!existsSync('dist/index.html')) throw new Error('Build the program first: npm run build.');
  const server = await preview({ preview: { port, strictPort: true }, logLevel: 'warn' });
  return { origin: `http://127.0.0.1:${port}`, stop: () => server.close() };
}

export function newProfile(folder = tmpdir()) {
  const profile = mkdtempSync(join(folder, 'lastlook-soak-'));
  return {
    profile,
    remove: () => rmSync(profile, { recursive: true, force: true, maxRetries: 5 }),
  };
}

/** A case that is being operated on. */
export async function beginCase(
  profile: string,
  origin: string,
  program?: string,
): Promise<Tablet> {
  const tablet = await switchOn(profile, origin, program);
  await operate(tablet.page);
  return tablet;
}

/** From the first page until the case is being operated on. */
export async function operate(page: Page): Promise<void> {
  await openTeachingCase(page);
  await signInShort(page);
  await countFirst(page);
  await untilOperating(page);
}

/** `text` is that of the rows: the head of a file is signed, each time in another way. */
export type Record = {
  readonly text: string;
  readonly rows: number;
  readonly code: string;
  /** As it was taken out. */
  readonly file: Buffer;
};

/** The whole record as the tablet gives it out, and what is said of it by the verifier. */
export async function readRecord(page: Page): Promise<Record> {
  const spine = page.getByRole('navigation', { name: 'Stations of the case' });
  const takeOut = button(page, 'Take out as a file');
  await expect(takeOut.or(button(spine, starting('Record')))).toBeVisible();
  // A tablet that was killed while it showed its record comes back to it.
  if (!(await takeOut.isVisible())) await press(spine, starting('Record'));
  const saving = page.waitForEvent('download');
  await press(page, 'Take out as a file');
  const path = await (await saving).path();
  const bytes = readFileSync(path);
  const verified = await verifyFile(bytes);
  if (verified.state !== 'whole') throw new Error(`The record is not whole: ${verified.sentence}`);
  const [, ...rows] = bytes.toString('utf8').split('\n');
  const { rows: count, code } = verified.told;
  return { text: rows.join('\n'), rows: count, code, file: bytes };
}

export async function backToFrame(page: Page): Promise<void> {
  await press(page, 'Back to the case');
  await expect(button(page, 'Add to field')).toBeVisible();
}

/** What a person has seen on the screen, entry by entry. */
export type Seen = { changes: number };

/** Counts each change of the swab's numbers: every entry of `tapAway` is one. */
export async function watchScreen(page: Page): Promise<Seen> {
  const seen: Seen = { changes: -1 };
  await page.exposeBinding('sawNumbers', () => {
    seen.changes += 1;
  });
  await page.evaluate((line) => {
    let before = '';
    const look = (): void => {
      const numbers = [...document.querySelectorAll(`[aria-label^="${line}, "] .stretch-number`)];
      const now = numbers.map((one) => one.textContent).join(' ');
      if (now === '' || now === before) return; // another screen shows none
      before = now;
      // The binding that was exposed above.
      Reflect.get(window, 'sawNumbers')();
    };
    new MutationObserver(look).observe(document.body, {
      ...{ childList: true, subtree: true, characterData: true },
    });
    look();
  }, swab);
  await expect.poll(() => seen.changes).toBe(0);
  return seen;
}

/** Taps one swab in and takes it back, as fast as it goes, until told to stop. Counts the taps. */
export type TapAway = (isOver: () => boolean) => Promise<number>;

/** Finds where to tap. */
export async function aim(page: Page): Promise<TapAway> {
  const middle = async (what: ReturnType<typeof button>) => {
    const box = await what.boundingBox();
    if (!box) throw new Error('What is to be tapped is not on the screen.');
    return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  };
  const inside = await middle(stretch(page, swab, 'on the table'));
  const back = await middle(button(page, 'Take back'));
  return async (isOver) => {
    let taps = 0;
    while (!isOver()) {
      const { x, y } = taps % 2 === 0 ? inside : back;
      taps += 1;
      try {
        await page.touchscreen.tap(x, y);
      } catch {
        break; // The browser is gone.
      }
    }
    return taps;
  };
}
