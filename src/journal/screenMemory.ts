import { entries, set, type UseStore } from 'idb-keyval';
import { ask } from './home.ts';

/** Where the screen was and how bright it is: short texts by key, nothing about a patient. */
export type ScreenMemory = {
  readonly read: (key: string) => string | undefined;
  readonly write: (key: string, value: string) => void;
};

/** The start does not wait longer for it. */
const readLimitMs = 2000;

/**
 * Opens a memory in a store of the database. It is read once, here, so that `read` need not wait.
 *
 * Not in localStorage: Chromium (seen with version 156) writes that to disk seconds later, so that a
 * browser which was killed came back to the first screen and not to the one it was on.
 *
 * Fails: silently, where the database does not answer; the program then starts at its first screen.
 */
export async function openScreenMemory(store: UseStore): Promise<ScreenMemory> {
  const known = new Map<string, string>();
  await ask('database', readLimitMs, async () => {
    for (const [key, value] of await entries<string, unknown>(store))
      if (typeof value === 'string') known.set(key, value);
    return { ok: true };
  });
  return {
    read: (key) => known.get(key),
    write: (key, value) => {
      known.set(key, value);
      set(key, value, store).catch(() => undefined);
    },
  };
}
