import type { LogFile } from '#journal/fileLog.ts';
import type { Directory } from '#journal/fileStore.ts';

/** What a file does wrong when its turn comes. */
export type FileMishap =
  /** Throws, and has done nothing. */
  | 'throws'
  /** Writes half of what it was given and says so, as on a full disk. Other calls throw. */
  | 'writes-half';

type Verb = 'names' | 'read' | 'open' | 'remove' | 'getSize' | 'write' | 'truncate' | 'flush';
type MishapAt = (call: number, verb: Verb) => FileMishap | undefined;

type Stored = { now: Uint8Array<ArrayBuffer>; onDisk: Uint8Array<ArrayBuffer>; isOpen: boolean };

export type MemoryDirectory = Directory & {
  readonly files: Map<string, Stored>;
  readonly calls: () => number;
  /** Power goes: what was not flushed is gone, but for a part of it. `part` is from 0 to 1. */
  readonly cutPower: (part: number) => void;
};

/** A folder in memory that knows what has reached the disk. Calls of its files are counted from 1. */
export function memoryDirectory(
  mishapAt: MishapAt = () => undefined,
  files = new Map<string, Stored>(),
): MemoryDirectory {
  let calls = 0;

  /** Answers whether half is to be written. */
  function turn(verb: Verb): boolean {
    calls += 1;
    const mishap = mishapAt(calls, verb);
    if (mishap === 'writes-half' && verb === 'write') return true;
    if (mishap) throw new DOMException('No space left', 'QuotaExceededError');
    return false;
  }

  function put(file: Stored, bytes: Uint8Array, at: number): number {
    const next = new Uint8Array(Math.max(file.now.length, at + bytes.length));
    next.set(file.now);
    next.set(bytes, at);
    file.now = next;
    return bytes.length;
  }

  function handleOf(file: Stored): LogFile {
    return {
      getSize: () => {
        turn('getSize');
        return file.now.length;
      },
      read: (bytes, { at }) => {
        turn('read');
        bytes.set(file.now.subarray(at, at + bytes.length));
        return bytes.length;
      },
      write: (bytes, { at }) => {
        const isHalf = turn('write');
        return put(file, isHalf ? bytes.subarray(0, bytes.length >> 1) : bytes, at);
      },
      truncate: (size) => {
        turn('truncate');
        file.now = file.now.slice(0, size);
      },
      flush: () => {
        turn('flush');
        file.onDisk = file.now;
      },
      close: () => {
        file.isOpen = false;
      },
    };
  }

  async function open(name: string): Promise<LogFile> {
    turn('open');
    const none = { now: new Uint8Array(), onDisk: new Uint8Array(), isOpen: false };
    const file = files.get(name) ?? none;
    files.set(name, file);
    if (file.isOpen) throw new DOMException('Open elsewhere', 'NoModificationAllowedError');
    file.isOpen = true;
    return handleOf(file);
  }

  function cutPower(part: number): void {
    for (const file of files.values()) {
      const unsure = file.now.length - file.onDisk.length;
      const kept = file.now.slice(0, file.onDisk.length + Math.floor(unsure * part));
      file.onDisk = unsure > 0 ? kept : file.onDisk;
      file.now = file.onDisk;
      file.isOpen = false;
    }
  }

  return {
    files,
    calls: () => calls,
    names: async () => {
      turn('names');
      return [...files.keys()];
    },
    read: async (name) => {
      turn('read');
      return files.get(name)?.now.slice();
    },
    open,
    remove: async (name) => {
      turn('remove');
      files.delete(name);
    },
    cutPower,
  };
}
