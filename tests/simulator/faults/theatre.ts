/** One tablet with its windows while a seed is played, and what was found wrong. */
import { type Chance, chanceFrom } from '../studyChance.ts';
import { databaseDisk } from './databaseDisk.ts';
import { fileDisk } from './fileDisk.ts';
import { mishapIn, type Plan } from './plan.ts';
import { type Acknowledged, type Storage, switchOn, type Window } from './tablet.ts';
import type { Owner, Time } from './time.ts';
import { makeWindows } from './windows.ts';

/** A window that was opened. It has no program yet while that starts. */
export type Opened = {
  readonly owner: Owner;
  window: Window | undefined;
  /** Units: milliseconds. */
  thawedAt: number;
};

/** Something that was asked and is not answered. */
type Outstanding = { readonly one: Opened; readonly since: number; readonly isEntry: boolean };

/** Changed by what happens. */
export type Theatre = {
  readonly plan: Plan;
  readonly time: Time;
  readonly chance: Chance;
  readonly storage: Storage;
  readonly wrong: string[];
  readonly acknowledged: Acknowledged[];
  readonly outstanding: Set<Outstanding>;
  /** Codes of all that was said to the user after a restart. */
  readonly told: Set<string>;
  opened: Opened[];
  /** Nothing goes wrong any more. */
  isQuiet: boolean;
  clockOffMs: number;
  caseId: string;
  windows: number;
  kills: number;
};

export function makeTheatre(plan: Plan, time: Time): Theatre {
  const chance = chanceFrom(plan.seed ^ 0x5eed);
  const isQuiet = (): boolean => theatre.isQuiet;
  const database = databaseDisk(time, chance, mishapIn(plan.database, isQuiet));
  const files = fileDisk(mishapIn(plan.files, isQuiet));
  const theatre: Theatre = {
    ...{
      plan,
      time,
      chance,
      storage: { time, chance, database, files, windows: makeWindows(time) },
    },
    ...{ wrong: [], acknowledged: [], outstanding: new Set(), told: new Set(), opened: [] },
    ...{ isQuiet: false, clockOffMs: 0, caseId: '', windows: 0, kills: 0 },
  };
  return theatre;
}

export const say = ({ wrong, time }: Theatre, what: string): void =>
  void wrong.push(`${Math.round(time.now())} ms: ${what}`);

/** Waits, and lets everything happen meanwhile. Units: milliseconds. */
export async function pass(theatre: Theatre, ms: number): Promise<void> {
  let isOver = false;
  const end = (): void => {
    isOver = true;
  };
  theatre.time.after(ms, end, undefined);
  await theatre.time.runUntil(() => isOver);
  for (const { owner } of theatre.opened) if (owner.isDead) kill(theatre, owner);
}

export function openWindow(theatre: Theatre): void {
  theatre.windows += 1;
  const owner: Owner = { name: `w${theatre.windows}`, isDead: false, isFrozen: false };
  const one: Opened = { owner, window: undefined, thawedAt: 0 };
  theatre.opened.push(one);
  const hears = {
    acknowledged: (entry: Acknowledged) => hear(theatre, entry),
    clockOffMs: () => theatre.clockOffMs,
  };
  switchOn(theatre.storage, owner, hears).then(
    (window) => {
      one.window = window;
      if (window) lookAtHomes(theatre, window);
    },
    (error) => say(theatre, `a window did not start: ${String(error)}`),
  );
}

/** A window that was left with one home says so before anybody taps in it: that home may be lost. */
function lookAtHomes(theatre: Theatre, { homes, state }: Window): void {
  const isSaid = state().reports.some(({ code }) => code === 'one-home');
  if (homes.length < 2 && !isSaid) say(theatre, 'one copy only is kept, and nothing says so');
}

/** What the journal calls saved is on every disk that it wrote to, then and there. */
function hear(theatre: Theatre, entry: Acknowledged): void {
  const { acknowledged, storage } = theatre;
  const windowOf = (id: string) => id.split('-')[0];
  for (const one of acknowledged) {
    const isOther = one.caseId !== entry.caseId;
    if (isOther && one.seq === 1 && entry.seq === 1 && windowOf(one.id) === windowOf(entry.id))
      say(theatre, 'one window opened two cases');
    // One that was kept in one home only, as was said, may be gone with it.
    if (!isOther && one.seq === entry.seq && one.id !== entry.id && one.homes.length > 1)
      say(theatre, `two entries ${entry.seq} were acknowledged`);
  }
  acknowledged.push(entry);
  theatre.caseId = entry.caseId;
  for (const home of entry.homes) {
    const texts = (home === 'file' ? storage.files : storage.database).rowsOf(entry.caseId);
    if (!texts[entry.seq - 1]?.includes(`"hash":"${entry.hash}"`))
      say(theatre, `entry ${entry.seq} was acknowledged and is not in the ${home}`);
  }
}

export function kill(theatre: Theatre, owner: Owner): void {
  const { storage, outstanding } = theatre;
  owner.isDead = true;
  storage.database.killed(owner);
  theatre.opened = theatre.opened.filter((one) => one.owner !== owner);
  for (const asked of outstanding) if (asked.one.owner === owner) outstanding.delete(asked);
  theatre.kills += 1;
  if (theatre.opened.length === 0) storage.database.restarted();
}

/** The browser is killed, or the power goes. */
export function killAll(theatre: Theatre, isPowerCut: boolean): void {
  for (const { owner } of theatre.opened) kill(theatre, owner);
  if (isPowerCut) theatre.storage.files.cutPower(theatre.chance());
}

/** Remembers what was asked until it is answered. */
export function track(
  theatre: Theatre,
  one: Opened,
  answer: Promise<unknown>,
  isEntry = false,
): void {
  const asked: Outstanding = { one, since: theatre.time.now(), isEntry };
  theatre.outstanding.add(asked);
  answer.then(
    () => theatre.outstanding.delete(asked),
    (error) => {
      theatre.outstanding.delete(asked);
      say(theatre, `what was asked threw ${String(error)}`);
    },
  );
}
