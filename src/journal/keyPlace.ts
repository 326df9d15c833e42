import { get, set } from 'idb-keyval';
import type { Database } from './database.ts';
import { ask, type Stored } from './home.ts';

/** Where the tablet's own key lies. Only a database can keep a key that the page cannot read. */
export type KeyPlace = {
  readonly get: () => Promise<CryptoKey | undefined>;
  readonly put: (key: CryptoKey) => Promise<Stored>;
};

const name = 'device-key';
/** Units: milliseconds. */
const limitMs = 5000;

/** Opens the place in the database. A key that cannot be read is as one that is not there. */
export function openKeyPlace(database: Database): KeyPlace {
  const meta = database.useStore('meta');
  return {
    get: async () => {
      const found: { key?: CryptoKey } = {};
      await ask('database', limitMs, async () => {
        const value: unknown = await get(name, meta);
        if (value instanceof CryptoKey) found.key = value;
        return { ok: true };
      });
      return found.key;
    },
    put: (key) =>
      ask('database', limitMs, async () => {
        await set(name, key, meta);
        return { ok: true };
      }),
  };
}
