/** One window of the program over simulated storage: the real session and the real journal. */
import { decide } from '#engine/case/decide.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { outcomeOf } from '#engine/case/outcomeOf.ts';
import { replay } from '#engine/history/replay.ts';
import { openDatabase } from '#journal/database.ts';
import { fail } from '#journal/failures.ts';
import { fileStore } from '#journal/fileStore.ts';
import type { KeepingHome } from '#journal/keeper.ts';
import { joinHomes } from '#journal/openTabletJournal.ts';
import { makeWriterLock } from '#journal/writerLock.ts';
import { createSession, type Session } from '#session/createSession.ts';
import type { JournalPort } from '#session/ports.ts';
import type { SessionState } from '#session/state.ts';
import type { Chance } from '../studyChance.ts';
import type { DatabaseDisk } from './databaseDisk.ts';
import type { FileDisk } from './fileDisk.ts';
import { as, type Owner, type Time } from './time.ts';
import type { Windows } from './windows.ts';

export type Storage = {
  readonly time: Time;
  readonly chance: Chance;
  readonly database: DatabaseDisk;
  readonly files: FileDisk;
  readonly windows: Windows;
};

/** An entry that the journal says is on disk. */
export type Acknowledged = {
  readonly id: string;
  readonly caseId: string;
  readonly seq: number;
  readonly hash: string;
  /** The homes that the window wrote to. */
  readonly homes: readonly string[];
};

export type Window = {
  readonly owner: Owner;
  readonly session: Session;
  readonly state: () => SessionState;
  /** The homes that it found usable at its start. */
  readonly homes: readonly string[];
  /** The id that the next entry gets. */
  readonly lastId: () => string;
};

export type Hears = {
  readonly acknowledged: (entry: Acknowledged) => void;
  /** What the clock of the tablet is off by. Units: milliseconds. */
  readonly clockOffMs: () => number;
};

const clockStart = Date.parse('2026-01-05T08:00:00Z');

/** The files as a worker serves them: later, and never with something thrown. */
function filesOf({ time, chance, files }: Storage, owner: Owner): KeepingHome {
  const store = fileStore(files.folderFor(owner));
  async function later<T extends { readonly ok: true }>(
    work: () => Promise<T | ReturnType<typeof fail>>,
  ) {
    await time.sleep(chance() * 4, owner);
    const answer = await work().catch((error) =>
      fail('home-failed', { home: 'file', detail: String(error) }),
    );
    await time.sleep(files.takeDelay() + chance() * 4, owner);
    return answer;
  }
  return {
    name: 'file',
    append: (row) => later(() => store.append(row)),
    readAll: (caseId) => later(() => store.readAll(caseId)),
    readAside: (caseId) => later(() => store.readAside(caseId)),
    list: () => later(() => store.list()),
    reseed: (...how) => later(() => store.reseed(...how)),
    readNotes: () => later(() => store.readNotes()),
    putNote: (name, text) => later(() => store.putNote(name, text)),
    dropNote: (name) => later(() => store.dropNote(name)),
    remove: (caseId) => later(() => store.remove(caseId)),
    close: () => store.close(),
  };
}

/** Opens the program in a window. Undefined where it finds no home at all. */
export function switchOn(
  storage: Storage,
  owner: Owner,
  hears: Hears,
): Promise<Window | undefined> {
  const { time, database, windows } = storage;
  return as(owner, async () => {
    const joined = await joinHomes(
      openDatabase('lastlook', database.factoryFor(owner)),
      [filesOf(storage, owner)],
      { persisted: async () => true },
    );
    if (!joined.ok) return undefined;
    const { homes } = await joined.journal.health();
    const real = joined.journal;
    const journal: JournalPort = {
      ...real,
      append: async (caseId, draft) => {
        const answer = await real.append(caseId, draft);
        if (answer.ok && !owner.isDead) {
          const { seq, hash } = answer.envelope;
          hears.acknowledged({ id: draft.id, caseId, seq, hash, homes });
        }
        return answer;
      },
    };
    let ids = 0;
    const lastId = () => `${owner.name}-${ids}`;
    const session = createSession({
      journal,
      clock: {
        now: () => new Date(clockStart + time.now() + hears.clockOffMs()).toISOString(),
        steadyMs: () => time.now(),
      },
      ids: {
        next: () => {
          ids += 1;
          return lastId();
        },
      },
      memory: joined.memory,
      writer: makeWriterLock(windows.locksFor(owner), windows.channelFor(owner)),
      app: 'simulated',
      rules: async () => ({ decide, evolve, openCase, outcomeOf, replay }),
    });
    await session.start();
    return { owner, session, homes, state: () => session.store.getSnapshot().context, lastId };
  });
}
