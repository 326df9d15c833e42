import { type Database, openDatabase } from './database.ts';
import { databaseHome } from './databaseHome.ts';
import { databaseKeeper } from './databaseKeeper.ts';
import { type Failed, fail, type Report, report } from './failures.ts';
import { fileHome, startOpfsWorker } from './fileHome.ts';
import { ask, type Home, type Stored } from './home.ts';
import { type KeepingHome, type Notes, openNotes } from './keeper.ts';
import { type KeyPlace, openKeyPlace } from './keyPlace.ts';
import { type Journal, openJournal } from './openJournal.ts';
import { beginCleanly, endCleanly } from './rotateLog.ts';
import { openScreenMemory, type ScreenMemory } from './screenMemory.ts';
import { type CipherOf, sealedHomes } from './sealedHome.ts';
import { openSigner, type Signer } from './signer.ts';

/** A home that has not answered by then at the start, however often it was asked, is left out until the next. */
const startLimitMs = 10_000;

/** A home that is left out for a passing trouble is left out for the whole case. Units: milliseconds. */
const startPausesMs = [50, 250, 1000];

/** What is kept on this tablet. */
export type TabletJournal = {
  readonly ok: true;
  readonly journal: Journal;
  readonly memory: ScreenMemory;
  readonly notes: Notes;
  readonly keyPlace: KeyPlace;
  readonly signer: Signer;
};

export type TabletOptions = {
  /** Who seals the rows; without it they stay plain. */
  readonly cipherOf?: CipherOf;
  readonly beforeNew?: (caseId: string) => Promise<Stored>;
};

export type JoinOptions = TabletOptions & {
  readonly persisted: () => Promise<boolean | undefined>;
};

/**
 * Opens the journal of this browser: a database and files, each holding every row. If one of them
 * cannot be used, the journal works with the other, and `health` says so.
 *
 * Fails: no-secure-page (no hashing there), no-home.
 */
export async function openTabletJournal(
  options: TabletOptions = {},
): Promise<TabletJournal | Failed> {
  if (!globalThis.isSecureContext || !('subtle' in crypto)) return fail('no-secure-page');
  const database = openDatabase('lastlook', indexedDB);
  const files = hasFiles() ? [fileHome(startOpfsWorker)] : [];
  const storage = storageHere();
  const persisted = async () => storage?.persisted().catch(() => undefined);
  const opened = await joinHomes(database, files, { ...options, persisted });
  if (!opened.ok) return opened;
  // Not waited for: some browsers ask the user, who may never answer.
  storage?.persist().catch(() => false);
  addEventListener('pagehide', (event) => {
    // A page that may come back goes on writing then.
    if (!event.persisted) endCleanly(database).catch(() => undefined);
  });
  return opened;
}

/**
 * The journal over a database and other homes, without those that do not answer.
 *
 * Fails: no-home.
 */
export async function joinHomes(
  database: Database,
  others: readonly KeepingHome[],
  options: JoinOptions,
): Promise<TabletJournal | Failed> {
  const first: KeepingHome = { ...databaseHome(database), ...databaseKeeper(database) };
  const candidates = [first, ...others];
  const end = performance.now() + startLimitMs;
  const opens = async (home: KeepingHome): Promise<boolean> => {
    // What comes of it shows in the first real question to the database.
    if (home === first)
      await askAtStart(home.name, end, async () => {
        await beginCleanly(database);
        return { ok: true };
      });
    return isUsable(home, end);
  };
  const usable = await Promise.all(candidates.map(opens));
  const homes = candidates.filter((_, index) => usable[index]);
  if (homes.length === 0) return fail('no-home');

  const leftOut = candidates.filter((_, index) => !usable[index]);
  const reports: Report[] = leftOut.map(({ name }) => report('home-left-out', { home: name }));
  if (database.wasWiped()) reports.push(report('database-wiped'));
  const memory = await openScreenMemory(database.useStore('meta'));
  const { cipherOf, beforeNew, persisted } = options;
  const signer = openSigner(database);
  const journal = openJournal({
    sign: signer.sign,
    homes: cipherOf ? sealedHomes(homes, cipherOf) : homes,
    remove: async (name, caseId) =>
      homes.find((home) => home.name === name)?.remove(caseId) ?? { ok: true },
    ...(beforeNew ? { beforeNew } : {}),
    ...{ reports, persisted },
  });
  const keyPlace = openKeyPlace(database);
  return { ok: true, journal, memory, notes: await openNotes(homes), keyPlace, signer };
}

/**
 * Asks more than once, but not one that was silent, and not after `end`: the user waits. Fails: as `ask` does.
 *
 * Units: `end` in milliseconds of `performance.now()`.
 */
async function askAtStart<T extends { readonly ok: true }>(
  home: string,
  end: number,
  call: () => Promise<T | Failed>,
): Promise<T | Failed> {
  const left = (): number => Math.max(0, end - performance.now());
  let answer = await ask(home, left(), call);
  for (const pauseMs of startPausesMs) {
    if (answer.ok || answer.failure.code === 'home-silent' || left() <= pauseMs) break;
    await new Promise((resolve) => setTimeout(resolve, pauseMs));
    answer = await ask(home, left(), call);
  }
  return answer;
}

async function isUsable(home: Home, end: number): Promise<boolean> {
  const listed = await askAtStart(home.name, end, home.list);
  if (!listed.ok) console.warn(`The ${home.name} cannot be used`, listed.failure);
  return listed.ok;
}

/** WebKitGTK 2.50 has none, whatever the types of the page say. */
const storageHere = (): StorageManager | undefined => navigator.storage;

const hasFiles = (): boolean => {
  const storage = storageHere();
  return storage !== undefined && 'getDirectory' in storage && 'Worker' in globalThis;
};
