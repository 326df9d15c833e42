/** Files of a browser's profile that lost their end: a torn last record, or what was never synced. */
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  readdirSync,
  readFileSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';

/** Where the last record is cut: behind its header, in its middle, in its header. */
export const shapes = ['header only', 'half of it', 'half of its header'] as const;
export type Shape = (typeof shapes)[number];

type Span = { readonly at: number; readonly header: number; readonly length: number };

function filesOf(folder: string, isMeant: (path: string) => boolean): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter(isMeant);
}

/** The log of Chromium's IndexedDB: records in blocks of 32 KiB, each with a header of 7 bytes. */
function lastOfDatabase(path: string): Span | undefined {
  const bytes = readFileSync(path);
  let last: Span | undefined;
  for (let at = 0; at + 7 <= bytes.length; ) {
    const left = 32_768 - (at % 32_768);
    const length = bytes.readUInt16LE(at + 4);
    if (left < 7) at += left;
    else if (bytes[at + 6] === 0 && length === 0) break;
    else {
      last = { at, header: 7, length };
      at += 7 + length;
    }
  }
  return last;
}

/** Our own file: a header of 8 bytes, see src/journal/records.ts. */
function lastOfFile(path: string): Span | undefined {
  const bytes = readFileSync(path);
  let last: Span | undefined;
  for (let at = 0; at + 8 <= bytes.length; ) {
    const length = bytes.readUInt32LE(at);
    if (length === 0 || at + 8 + length > bytes.length) break;
    last = { at, header: 8, length };
    at += 8 + length;
  }
  return last;
}

const isDatabaseLog = (path: string) => /\.indexeddb\.leveldb[\\/]\d+\.log$/.test(path);
const isOurFile = (path: string) => /[\\/]File System[\\/].*[\\/]\d{8}$/.test(path);

export type Journal = 'database' | 'file';

/** Cuts the last record of a journal in a profile that no browser has open. Answers how many bytes went. */
export function cutLast(profile: string, journal: Journal, shape: Shape): number {
  const isDatabase = journal === 'database';
  const files = filesOf(profile, isDatabase ? isDatabaseLog : isOurFile);
  // The log, and the case, that was written last.
  const path = [...files].sort((one, other) => statSync(other).mtimeMs - statSync(one).mtimeMs)[0];
  const last = path && (isDatabase ? lastOfDatabase(path) : lastOfFile(path));
  if (!path || !last) throw new Error(`There is no record of the ${journal} to cut.`);
  const kept = { 'header only': last.header, 'half of it': last.header + (last.length >> 1) };
  const end = last.at + (shape === 'half of its header' ? 3 : kept[shape]);
  const lost = statSync(path).size - end;
  truncateSync(path, end);
  return lost;
}

/** A program that starts Chromium and writes down what it writes and syncs. */
export function tracedChromium(folder: string, chromium: string) {
  const [program, trace] = [join(folder, 'traced.sh'), join(folder, 'trace.txt')];
  const calls = 'trace=write,pwrite64,fdatasync,fsync,ftruncate';
  writeFileSync(
    program,
    `#!/bin/sh\nexec strace -f -y -qq -s 0 -o ${trace} -e ${calls} ${chromium} "$@"\n`,
  );
  chmodSync(program, 0o755);
  return { program, trace };
}

export function hasStrace(): boolean {
  try {
    execFileSync('strace', ['-V'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

/**
 * Power is cut in the worst way: of every log and file only what was synced is left. `trace` was written by
 * `tracedChromium`. Answers how many bytes went.
 */
export function cutPower(profile: string, trace: string): number {
  const synced = syncedBytes(readFileSync(trace, 'utf8'));
  let lost = 0;
  for (const path of filesOf(profile, (one) => isDatabaseLog(one) || isOurFile(one))) {
    const kept = synced.get(path);
    // A file that was not written to since the browser started lost nothing.
    if (kept === undefined || kept >= statSync(path).size) continue;
    lost += statSync(path).size - kept;
    truncateSync(path, kept);
  }
  return lost;
}

/** What of each file that was written to has reached the disk. Units: bytes. */
function syncedBytes(trace: string): ReadonlyMap<string, number> {
  const size = new Map<string, number>();
  const synced = new Map<string, number>();
  const waiting = new Map<string, readonly [path: string, bytes: number]>();
  for (const line of trace.split('\n')) {
    const resumed = /^(\d+) +<\.\.\. f(?:data)?sync resumed>.*= 0/.exec(line);
    const began = resumed && waiting.get(resumed[1] ?? '');
    if (began) synced.set(...began);
    const call = /^(\d+) +(\w+)\(\d+<([^>]*)>(.*)$/.exec(line);
    if (!call) continue;
    const [, thread = '', name = '', path = '', rest = ''] = call;
    const now = size.get(path) ?? 0;
    const count = Number(/, (\d+)(?:\)| <unfinished)/.exec(rest)?.[1] ?? 0);
    if (name === 'write') size.set(path, now + count);
    if (name === 'pwrite64') {
      const [, bytes = 0, offset = 0] = /, (\d+), (\d+)(?:\)| <unfinished)/.exec(rest) ?? [];
      size.set(path, Math.max(now, Number(offset) + Number(bytes)));
    }
    if (name === 'ftruncate') size.set(path, Number(/, (\d+)\)/.exec(rest)?.[1] ?? now));
    if (!synced.has(path)) synced.set(path, 0);
    if (name !== 'fdatasync' && name !== 'fsync') continue;
    if (rest.includes('unfinished')) waiting.set(thread, [path, now]);
    else if (/= 0$/.test(rest)) synced.set(path, now);
  }
  return synced;
}
