import { get, set } from 'idb-keyval';
import { committed, type Database } from './database.ts';

/** Below the 64 KiB from which Chromium would put a value into a file of its own. */
const pieceBytes = 60_000;
const pieces = 100;

/**
 * Notes that the program runs. After a shutdown that was not clean it first makes the database begin
 * a new log, by writing and deleting 6 MB: Chromium (seen with version 156) otherwise goes on in a log
 * whose last record may be torn, finds the log damaged at the start after that, and deletes the whole
 * database. Of 6 such logs all were read again after a filler, of 18 without none.
 *
 * Rules: must come before anything else is written. The second home holds where this does not: two
 * windows share the note, so one that closes says clean for both.
 */
export async function beginCleanly(database: Database): Promise<void> {
  const meta = database.useStore('meta');
  const state: unknown = await get('shutdown', meta);
  if (state === 'running') await rotateLog(database);
  else await set('shutdown', 'running', meta);
}

/** Notes a clean shutdown. Nothing may be written after it. */
export const endCleanly = (database: Database): Promise<void> =>
  set('shutdown', 'clean', database.useStore('meta'));

async function rotateLog(database: Database): Promise<void> {
  const useFiller = database.useStore('filler');
  await useFiller('readwrite', (filler) => {
    const done = committed(filler.transaction);
    for (let piece = 0; piece < pieces; piece += 1) {
      // Random bytes, since the database packs what repeats itself.
      filler.put(crypto.getRandomValues(new Uint8Array(pieceBytes)), piece);
    }
    return done;
  });
  await useFiller('readwrite', (filler) => {
    const done = committed(filler.transaction);
    filler.clear();
    return done;
  });
}
