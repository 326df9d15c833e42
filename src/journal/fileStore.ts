import { type FileLog, type LogFile, type LogMemory, openFileLog } from './fileLog.ts';
import type { Held, Stored } from './home.ts';
import type { KeepingHome, NotesHeld } from './keeper.ts';
import { decodeRecords, encodeRecord } from './records.ts';

/** What the store needs of a folder. An opened file belongs to its opener until it is closed. */
export type Directory = {
  readonly names: () => Promise<readonly string[]>;
  /** Undefined if there is no such file. May be asked while the file is open. */
  readonly read: (name: string) => Promise<Uint8Array<ArrayBuffer> | undefined>;
  /** Makes the file if there is none. */
  readonly open: (name: string) => Promise<LogFile>;
  /** Takes a file away; it is not open. */
  readonly remove: (name: string) => Promise<void>;
};

const ending = '.log';
const noteEnding = '.note';

/**
 * Keeps each case in a file of records that is only ever added to, and flushed before the answer. The
 * file stays open between entries that come soon after each other, then another window may have it.
 *
 * Throws: whatever the folder does; the file is then opened anew at the next call.
 */
export function fileStore(directory: Directory, idleMs = 200): KeepingHome {
  const logs = openLogs(directory);
  let idle: ReturnType<typeof setTimeout> | undefined;
  let queue: Promise<unknown> = Promise.resolve();

  /** One thing at a time, since opening and closing a file take turns with writing it. */
  function inOrder<T>(work: () => Promise<T>): Promise<T> {
    clearTimeout(idle);
    const answer = queue.then(work);
    queue = answer.catch(logs.giveUp).then(() => {
      clearTimeout(idle);
      if (logs.isAnyOpen())
        idle = setTimeout(() => void inOrder(async () => logs.release()), idleMs);
    });
    return answer;
  }

  async function reseed(caseId: string, texts: readonly string[], found: number): Promise<Stored> {
    // What is open may be a file that the browser has deleted since; what was found is what can be opened now.
    logs.giveUp();
    const log = await logs.logOf(caseId);
    return log.reseed(texts, found, (bytes) => setAside(directory, caseId, bytes));
  }

  return {
    name: 'file',
    append: (row) => inOrder(async () => (await logs.logOf(row.caseId)).append(row)),
    readAll: (caseId) => inOrder(() => readAll(directory, caseId)),
    readAside: (caseId) => inOrder(() => readAside(directory, caseId)),
    list: () => inOrder(() => list(directory)),
    reseed: (caseId, texts, found) => inOrder(() => reseed(caseId, texts, found)),
    close: () => inOrder(async () => logs.release()),
    readNotes: () => inOrder(() => readNotes(directory)),
    putNote: (name, text) =>
      inOrder(() => writeWhole(directory, name + noteEnding, encodeRecord(text))),
    dropNote: (name) => inOrder(() => removeFiles(directory, (one) => one === name + noteEnding)),
    remove: (caseId) =>
      inOrder(() => {
        logs.release();
        return removeFiles(directory, (one) => isOfCase(one, caseId));
      }),
  };
}

/** The files that are open, by case. */
function openLogs(directory: Directory) {
  /** Mostly the case that goes on, and the book beside it. */
  const open = new Map<string, FileLog>();
  /** Of those that were open last, so that a file need not be read whole for each entry. */
  let memories: ReadonlyMap<string, LogMemory> = new Map();

  function release(): void {
    if (open.size === 0) return;
    const closed = new Map<string, LogMemory>();
    for (const [caseId, log] of open) {
      try {
        closed.set(caseId, log.close());
      } catch {
        // It is given up in any case.
      }
    }
    open.clear();
    memories = closed;
  }

  /** After something was thrown nobody knows what is in a file. */
  function giveUp(): void {
    release();
    memories = new Map();
  }

  async function logOf(caseId: string): Promise<FileLog> {
    const there = open.get(caseId);
    if (there) return there;
    const file = await directory.open(caseId + ending);
    try {
      const log = openFileLog(file, memories.get(caseId));
      open.set(caseId, log);
      return log;
    } catch (error) {
      file.close();
      throw error;
    }
  }

  return { logOf, release, giveUp, isAnyOpen: () => open.size > 0 };
}

async function readNotes(directory: Directory): Promise<NotesHeld> {
  const notes: [string, string][] = [];
  for (const name of await directory.names()) {
    if (!name.endsWith(noteEnding)) continue;
    const { texts } = decodeRecords((await directory.read(name)) ?? new Uint8Array());
    // One that was cut while it was written over is in the other home.
    if (texts[0] !== undefined) notes.push([name.slice(0, -noteEnding.length), texts[0]]);
  }
  return { ok: true, notes };
}

async function removeFiles(
  directory: Directory,
  isMeant: (name: string) => boolean,
): Promise<Stored> {
  for (const name of await directory.names()) if (isMeant(name)) await directory.remove(name);
  return { ok: true };
}

const isOfCase = (name: string, caseId: string): boolean =>
  name === caseId + ending || name.startsWith(`${caseId}.aside-`);

async function readAll(directory: Directory, caseId: string): Promise<Held> {
  const bytes = (await directory.read(caseId + ending)) ?? new Uint8Array();
  const { texts, damaged } = decodeRecords(bytes);
  return { ok: true, texts, damaged };
}

async function setAside(
  directory: Directory,
  caseId: string,
  bytes: Uint8Array<ArrayBuffer>,
): Promise<void> {
  const taken = new Set(await directory.names());
  let place = 1;
  while (taken.has(asideName(caseId, place))) place += 1;
  await writeWhole(directory, asideName(caseId, place), bytes);
}

async function writeWhole(
  directory: Directory,
  name: string,
  bytes: Uint8Array<ArrayBuffer>,
): Promise<Stored> {
  const file = await directory.open(name);
  try {
    file.truncate(0);
    const written = file.write(bytes, { at: 0 });
    if (written !== bytes.length) throw new RangeError(`Wrote ${written} of ${bytes.length}`);
    file.flush();
    return { ok: true };
  } finally {
    file.close();
  }
}

async function readAside(directory: Directory, caseId: string): Promise<Held> {
  const texts: string[] = [];
  let damaged = false;
  const there = new Set(await directory.names());
  for (let place = 1; there.has(asideName(caseId, place)); place += 1) {
    const bytes = (await directory.read(asideName(caseId, place))) ?? new Uint8Array();
    const records = decodeRecords(bytes);
    texts.push(...records.texts);
    damaged ||= records.damaged;
  }
  return { ok: true, texts, damaged };
}

const asideName = (caseId: string, place: number): string => `${caseId}.aside-${place}`;

async function list(directory: Directory) {
  const logs = (await directory.names()).filter((name) => name.endsWith(ending));
  return {
    ok: true,
    cases: logs.map((name) => ({ caseId: name.slice(0, -ending.length) })),
  } as const;
}
