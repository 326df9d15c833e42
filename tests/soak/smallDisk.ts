/** A small file system of its own for a browser's profile, which can be filled from outside and freed. */
import { execFileSync } from 'node:child_process';
import {
  closeSync,
  mkdtempSync,
  openSync,
  rmdirSync,
  rmSync,
  statfsSync,
  truncateSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export type SmallDisk = {
  readonly folder: string;
  /** Nothing more fits from now on, also when something is given back. */
  readonly fill: () => void;
  readonly free: () => void;
  readonly freeBytes: () => number;
  readonly remove: () => void;
};

/** Often enough that nobody else finds room that was just given back. Units: milliseconds. */
const againMs = 20;

/** Undefined where no file system may be mounted: that needs root, and a machine that allows it. */
export function smallDisk(megabytes: number): SmallDisk | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'lastlook-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], {
      stdio: 'ignore',
    });
  } catch {
    rmdirSync(folder);
    return undefined;
  }
  const path = join(folder, 'filler');
  const filler = openSync(path, 'w');
  let again: ReturnType<typeof setInterval> | undefined;

  const freeBytes = (): number => {
    const { bavail, bsize } = statfsSync(folder);
    return bavail * bsize;
  };

  function pour(): void {
    try {
      while (freeBytes() > 0) writeSync(filler, new Uint8Array(Math.min(freeBytes(), 1 << 20)));
    } catch {
      // Somebody else took the last of it.
    }
  }

  return {
    folder,
    freeBytes,
    fill: () => {
      pour();
      again ??= setInterval(pour, againMs);
    },
    free: () => {
      clearInterval(again);
      again = undefined;
      truncateSync(path, 0);
    },
    remove: () => {
      clearInterval(again);
      closeSync(filler);
      execFileSync('umount', ['-l', folder]);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
