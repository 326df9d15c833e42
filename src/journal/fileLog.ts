import { fail } from './failures.ts';
import type { Row, Stored } from './home.ts';
import { decodeRecords, encodeRecord } from './records.ts';

/** What the log needs of an open file: a part of the browser's FileSystemSyncAccessHandle. */
export type LogFile = {
  readonly getSize: () => number;
  readonly read: (bytes: Uint8Array<ArrayBuffer>, options: { at: number }) => number;
  readonly write: (bytes: Uint8Array<ArrayBuffer>, options: { at: number }) => number;
  readonly truncate: (size: number) => void;
  readonly flush: () => void;
  readonly close: () => void;
};

/** What was in a file when it was closed: how many records, the last of them, and where they end. Units: bytes. */
export type LogMemory = {
  readonly count: number;
  readonly last: string | undefined;
  readonly end: number;
};

/** One case in one open file. After anything thrown it must be closed and opened anew. */
export type FileLog = {
  readonly append: (row: Row) => Stored;
  /** `setAside` is given the bytes that would be lost, before they are. */
  readonly reseed: (
    texts: readonly string[],
    found: number,
    setAside: (bytes: Uint8Array<ArrayBuffer>) => Promise<void>,
  ) => Promise<Stored>;
  readonly close: () => LogMemory;
};

const home = 'file';

/**
 * Reads the file and stands ready to append after its last whole record. A file that is still as long as
 * `memory` has it, and ends with the same record, is not read again: rows are chained, so the rest is the same.
 *
 * Throws: whatever the file does.
 */
export function openFileLog(file: LogFile, memory?: LogMemory): FileLog {
  let { count, last, end } = memory && isAsBefore(file, memory) ? memory : readLog(file);

  function writeAt(place: number, added: readonly string[]): void {
    const records = joined(added.map(encodeRecord));
    const written = file.write(records, { at: place });
    // A full disk may show in this way only.
    if (written !== records.length) throw new RangeError(`Wrote ${written} of ${records.length}`);
    file.flush();
    end = place + records.length;
  }

  /** Leaves no torn record behind if it can; if it cannot, its CRC-32 tells at the next opening. */
  function undo(): void {
    try {
      file.truncate(end);
      file.flush();
    } catch {
      // The caller hears of the first failure.
    }
  }

  /** A row that is there already. */
  function appendAgain({ seq, text }: Row): Stored {
    const there = seq === count ? last : decodeRecords(readWhole(file)).texts[seq - 1];
    if (there !== text) return fail('home-taken', { home });
    // It may stand in the file without ever having reached the disk: write it once more.
    if (seq === count) writeAt(end - encodeRecord(text).length, [text]);
    return { ok: true };
  }

  function append(row: Row): Stored {
    const { seq, text } = row;
    if (seq <= count) return appendAgain(row);
    if (seq > count + 1 || file.getSize() !== end) return fail('home-gap', { home });
    try {
      writeAt(end, [text]);
    } catch (error) {
      undo();
      throw error;
    }
    count = seq;
    last = text;
    return { ok: true };
  }

  const reseed: FileLog['reseed'] = async (wanted, found, setAside) => {
    const { texts } = decodeRecords(readWhole(file));
    if (texts.length !== found) return fail('home-changed', { home });
    const differing = texts.findIndex((text, index) => text !== wanted[index]);
    const shared = differing === -1 ? texts.length : differing;
    const cut = texts.slice(0, shared).reduce((sum, text) => sum + encodeRecord(text).length, 0);
    if (file.getSize() > cut) await setAside(readWhole(file).slice(cut));
    file.truncate(cut);
    writeAt(cut, wanted.slice(shared));
    count = wanted.length;
    last = wanted.at(-1);
    return { ok: true };
  };

  function close(): LogMemory {
    file.close();
    return { count, last, end };
  }

  return { append, reseed, close };
}

function readLog(file: LogFile): LogMemory {
  const { texts, validBytes } = decodeRecords(readWhole(file));
  return { count: texts.length, last: texts.at(-1), end: validBytes };
}

function isAsBefore(file: LogFile, { last, end }: LogMemory): boolean {
  if (last === undefined || file.getSize() !== end) return false;
  const record = encodeRecord(last);
  const there = new Uint8Array(record.length);
  file.read(there, { at: end - record.length });
  return record.every((byte, index) => byte === there[index]);
}

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

function readWhole(file: LogFile): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(file.getSize());
  const read = file.read(bytes, { at: 0 });
  if (read !== bytes.length) throw new RangeError(`Read ${read} of ${bytes.length}`);
  return bytes;
}
