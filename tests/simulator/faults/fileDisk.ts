/** A folder of files in memory that knows what has reached the disk, shared by all windows. */
import type { LogFile } from '#journal/fileLog.ts';
import type { Directory } from '#journal/fileStore.ts';
import { decodeRecords } from '#journal/records.ts';
import { type FileMishap, hangMs, type MishapAt, slowMs } from './mishaps.ts';
import type { Owner } from './time.ts';

type File = {
  now: Uint8Array<ArrayBuffer>;
  onDisk: Uint8Array<ArrayBuffer>;
  openedBy: Owner | undefined;
};

export type FileDisk = {
  readonly folderFor: (owner: Owner) => Directory;
  /** How much later the answer to the last call comes. Units: milliseconds. */
  readonly takeDelay: () => number;
  /** Power goes: of what was not flushed a part is kept. `part` is from 0 to 1. */
  readonly cutPower: (part: number) => void;
  /** What would be read after a power cut. */
  readonly rowsOf: (caseId: string) => readonly string[];
  /** What is read while the power stays on. */
  readonly rowsNow: (caseId: string) => readonly string[];
  readonly calls: () => number;
};

const full = (): DOMException => new DOMException('Simulated: no space', 'QuotaExceededError');

export function fileDisk(mishapAt: MishapAt<FileMishap>): FileDisk {
  const files = new Map<string, File>();
  let calls = 0;
  let delay = 0;

  /** Does a call, unless it goes wrong. `half` is what is done of it when it goes wrong in the middle. */
  function call<T>(owner: Owner, work: () => T, half: () => T = work): T {
    if (owner.isDead) throw full();
    calls += 1;
    const mishap = mishapAt(calls);
    if (mishap === 'throws') throw full();
    if (mishap === 'writes-half') return half();
    if (mishap === 'hangs') delay = hangMs;
    if (mishap === 'slow') delay = slowMs;
    if (mishap === 'dies') {
      half();
      owner.isDead = true;
      throw full();
    }
    const done = work();
    if (mishap === 'done-but-denied') throw full();
    return done;
  }

  function put(file: File, bytes: Uint8Array, at: number): number {
    const next = new Uint8Array(Math.max(file.now.length, at + bytes.length));
    next.set(file.now);
    next.set(bytes, at);
    file.now = next;
    return bytes.length;
  }

  const handleOf = (file: File, owner: Owner): LogFile => ({
    getSize: () => call(owner, () => file.now.length),
    read: (bytes, { at }) =>
      call(owner, () => {
        bytes.set(file.now.subarray(at, at + bytes.length));
        return bytes.length;
      }),
    write: (bytes, { at }) =>
      call(
        owner,
        () => put(file, bytes, at),
        () => put(file, bytes.subarray(0, bytes.length >> 1), at),
      ),
    truncate: (size) =>
      call(owner, () => {
        file.now = file.now.slice(0, size);
      }),
    flush: () =>
      call(owner, () => {
        file.onDisk = file.now;
      }),
    close: () => {
      if (file.openedBy === owner) file.openedBy = undefined;
    },
  });

  async function open(name: string, owner: Owner): Promise<LogFile> {
    // One that throws has not opened anything, whatever it did.
    const mine = call(owner, () => {
      const none: File = { now: new Uint8Array(), onDisk: new Uint8Array(), openedBy: undefined };
      const file = files.get(name) ?? none;
      files.set(name, file);
      if (file.openedBy && !file.openedBy.isDead)
        throw new DOMException('Simulated: open elsewhere', 'NoModificationAllowedError');
      return file;
    });
    mine.openedBy = owner;
    return handleOf(mine, owner);
  }

  function cutPower(part: number): void {
    for (const file of files.values()) {
      const unsure = file.now.length - file.onDisk.length;
      if (unsure > 0)
        file.onDisk = file.now.slice(0, file.onDisk.length + Math.floor(unsure * part));
      file.now = file.onDisk;
    }
  }

  return {
    folderFor: (owner) => ({
      names: async () => call(owner, () => [...files.keys()]),
      read: async (name) => call(owner, () => files.get(name)?.now.slice()),
      open: (name) => open(name, owner),
      remove: async (name) => call(owner, () => void files.delete(name)),
    }),
    takeDelay: () => {
      const taken = delay;
      delay = 0;
      return taken;
    },
    cutPower,
    rowsOf: (caseId) => textsIn(files.get(`${caseId}.log`)?.onDisk),
    rowsNow: (caseId) => textsIn(files.get(`${caseId}.log`)?.now),
    calls: () => calls,
  };
}

const textsIn = (bytes = new Uint8Array()): readonly string[] => decodeRecords(bytes).texts;
