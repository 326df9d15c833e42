/**
 * `npm run soak:kill -- N`: a case is tapped as fast as it goes; the browser is killed with SIGKILL at a random
 * moment, started, read, killed, started and read again; N times (200). Prints what was lost. Exit 1 if
 * anything was, if an entry was half, or if a case did not open.
 */
import { parseArgs } from 'node:util';
import { switchOnAgain, type Tablet } from '../browser/tablet.ts';
import {
  aim,
  backToFrame,
  beginCase,
  newProfile,
  readRecord,
  serve,
  watchScreen,
} from './soakCase.ts';

/** Units: milliseconds of tapping before the kill. */
const longestMs = 1200;

export type Killed = {
  readonly kills: number;
  readonly acknowledged: number;
  readonly wrong: readonly string[];
  /** Starts at which the program said that it had to mend something. */
  readonly mended: number;
  /** Entries that were on disk although the screen had not said so. */
  readonly unseen: number;
};

/** Taps until the kill; answers how many entries were seen on the screen, and how many taps were made. */
async function tapUntilKilled(tablet: Tablet) {
  const seen = await watchScreen(tablet.page);
  let isDead = false;
  const tapAway = await aim(tablet.page);
  const tapping = tapAway(() => isDead);
  await new Promise((resolve) => setTimeout(resolve, 30 + Math.random() * longestMs));
  await tablet.kill();
  isDead = true;
  return { taps: await tapping, seen: seen.changes };
}

const firstLine = (error: unknown): string => String(error).split('\n')[0] ?? '';

const hasMended = async ({ page }: Tablet): Promise<boolean> =>
  (await page
    .getByText(/was restored|lacked row|was damaged|differ from row|thrown away/)
    .count()) > 0;

export async function soakKill(
  count: number,
  origin: string,
  say: (words: string) => void,
): Promise<Killed> {
  const { profile, remove } = newProfile();
  const wrong: string[] = [];
  const sum = { acknowledged: 0, mended: 0, unseen: 0 };
  let tablet = await beginCase(profile, origin);
  let { rows } = await readRecord(tablet.page);
  await backToFrame(tablet.page);
  let kills = 0;
  try {
    while (kills < count) {
      const { taps, seen } = await tapUntilKilled(tablet);
      kills += 1;
      tablet = await switchOnAgain(profile, origin);
      const first = await readRecord(tablet.page);
      const least = rows + seen;
      if (first.rows < least)
        wrong.push(`kill ${kills}: ${least - first.rows} entries lost of ${seen}`);
      if (first.rows > rows + taps) wrong.push(`kill ${kills}: more entries than taps`);
      await tablet.kill();
      tablet = await switchOnAgain(profile, origin);
      const second = await readRecord(tablet.page);
      if (second.text !== first.text)
        wrong.push(
          `kill ${kills}: the second start shows ${second.rows} rows, the first ${first.rows}`,
        );
      if (await hasMended(tablet)) sum.mended += 1;
      sum.acknowledged += seen;
      sum.unseen += Math.max(0, first.rows - least);
      rows = second.rows;
      await backToFrame(tablet.page);
      say(`kill ${kills}: ${seen} entries seen, ${taps} taps, ${rows} rows after two starts`);
    }
  } catch (error) {
    wrong.push(`kill ${kills}: the case did not open or go on: ${firstLine(error)}`);
    const path = `reports/kill-${kills}.png`;
    await tablet.page.screenshot({ path }).catch(() => undefined);
  }
  await tablet.context.close().catch(() => undefined);
  remove();
  return { kills, wrong, ...sum };
}

if (import.meta.main) {
  const { positionals } = parseArgs({ allowPositionals: true });
  const count = Number(positionals[0] ?? 200);
  const { origin, stop } = await serve(4376);
  const { kills, acknowledged, wrong, mended, unseen } = await soakKill(count, origin, console.log);
  await stop();
  for (const what of wrong) console.log(what);
  console.log(
    `${kills} kills, two starts each: ${acknowledged} entries seen on the screen, ${wrong.length} things wrong. ` +
      `${unseen} entries were on disk before the screen could say so; ${mended} times something was mended.`,
  );
  process.exitCode = wrong.length > 0 ? 1 : 0;
}
