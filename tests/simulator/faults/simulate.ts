/** One whole case with everything that can go wrong, from one seed; and what must hold whatever does. */
import { act, goToCase, lookAtScreens, lookAtWaiting, tap, upheave } from './acts.ts';
import { wrongRows } from './check.ts';
import { type Plan, planOf } from './plan.ts';
import { killAll, makeTheatre, openWindow, pass, say, type Theatre } from './theatre.ts';
import { makeTime, within } from './time.ts';

export type Simulated = {
  readonly seed: number;
  /** What did not hold, in words. Empty when all did. */
  readonly wrong: readonly string[];
  readonly acknowledged: number;
  readonly databaseCalls: number;
  readonly fileCalls: number;
  /** How often the browser threw the database away. */
  readonly wipes: number;
  readonly kills: number;
};

/** Plays one seed. `installTime` must have been called. */
export const simulateSeed = (seed: number): Promise<Simulated> => simulate(planOf(seed));

export function simulate(plan: Plan): Promise<Simulated> {
  const time = makeTime();
  return within(time, async () => {
    const theatre = makeTheatre(plan, time);
    try {
      await work(theatre);
      await recover(theatre);
    } catch (error) {
      say(theatre, error instanceof Error ? (error.stack ?? error.message) : String(error));
    }
    const { database, files } = theatre.storage;
    return {
      seed: plan.seed,
      wrong: theatre.wrong,
      acknowledged: theatre.acknowledged.length,
      databaseCalls: database.calls(),
      fileCalls: files.calls(),
      wipes: database.wipes(),
      kills: theatre.kills,
    };
  });
}

async function work(theatre: Theatre): Promise<void> {
  const { plan, chance } = theatre;
  openWindow(theatre);
  for (let step = 0; step < plan.steps; step += 1) {
    await pass(theatre, 20 + chance() * (chance() < 0.2 ? 4000 : 400));
    lookAtWaiting(theatre);
    if (theatre.opened.length === 0) openWindow(theatre);
    else if (chance() < plan.upheaval) upheave(theatre);
    else atSomeWindow(theatre);
  }
}

function atSomeWindow(theatre: Theatre): void {
  const { plan, chance, opened } = theatre;
  const ready = opened.filter(({ window, owner }) => window && !owner.isFrozen);
  const one = ready[chance() < 0.8 ? 0 : Math.floor(chance() * ready.length)];
  if (one) act(theatre, one);
  else if (opened.length < plan.windows) openWindow(theatre);
}

/** Units: milliseconds. Longer than any answer may take. */
const longMs = 60_000;

/** Everything works again: what waits is answered, and then the tablet is restarted twice. */
async function recover(theatre: Theatre): Promise<void> {
  const { chance, time, outstanding } = theatre;
  theatre.isQuiet = true;
  for (const one of theatre.opened) {
    one.owner.isFrozen = false;
    one.thawedAt = time.now();
  }
  await pass(theatre, 10 * longMs);
  if (outstanding.size > 0) say(theatre, `${outstanding.size} things asked were never answered`);
  await saveAgain(theatre);
  lookAtScreens(theatre);
  for (const restart of [1, 2]) {
    killAll(theatre, chance() < 0.5);
    await restarted(theatre, restart);
  }
  lookAtScreens(theatre);
}

/** Whoever could not save can now. */
async function saveAgain(theatre: Theatre): Promise<void> {
  const waiting = theatre.opened.filter(({ window }) => window?.state().notSaved !== undefined);
  // Two windows that save at the same time may be in each other's way, so more than once.
  for (const one of [...waiting, ...waiting]) {
    if (one.window?.state().notSaved !== undefined) act(theatre, one, 'save');
    await pass(theatre, longMs);
  }
  for (const { window } of waiting)
    if (window?.state().notSaved !== undefined)
      say(theatre, `nothing can be saved any more: ${window.state().notSaved}`);
}

async function restarted(theatre: Theatre, restart: number): Promise<void> {
  await pass(theatre, 10);
  openWindow(theatre);
  await pass(theatre, longMs);
  const one = theatre.opened[0];
  const window = one?.window;
  if (!one || !window) return say(theatre, 'the program did not start again');
  if (theatre.caseId === '') return;
  const at = { theatre, one, window };
  goToCase(at);
  await pass(theatre, longMs);
  for (const { code } of window.state().reports) theatre.told.add(code);
  const isTold = theatre.told.has('database-wiped');
  const isKnown = theatre.acknowledged.some(
    ({ caseId, homes }) => caseId === theatre.caseId && (homes.length > 1 || !isTold),
  );
  // Its first entry was torn before it was acknowledged, or kept in one home only, which is lost, as was said.
  if (!window.state().current && !isKnown) return;
  if (!window.state().current)
    return say(theatre, `the case did not open: ${window.state().damaged}`);
  for (const what of wrongRows(theatre, window)) say(theatre, `restart ${restart}: ${what}`);
  tap(at, { type: 'note', text: `Restart ${restart}` });
  await pass(theatre, longMs);
  if (theatre.acknowledged.at(-1)?.hash !== window.state().head)
    say(theatre, 'nothing can be recorded any more');
}
