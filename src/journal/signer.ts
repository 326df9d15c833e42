import { promisifyRequest } from 'idb-keyval';
import { committed, type Database } from './database.ts';
import { ask } from './home.ts';
import { type Head, keyCode, newSigningKey, type Signed, signHead } from './signature.ts';

/** Signs for this tablet, with a key that the browser keeps and never gives out. */
export type Signer = {
  /** Undefined where there is no key and none can be kept: what leaves the tablet is then not signed. */
  readonly sign: (head: Head) => Promise<Signed | undefined>;
  /** The short form of the key, as `npm run verify` says it. */
  readonly code: () => Promise<string | undefined>;
};

const name = 'signing-key';
/** Units: milliseconds. */
const limitMs = 5000;

/**
 * The signer of a tablet. Its key is made when first used, and lies in the database: where that is lost,
 * the tablet has another key from then on.
 */
export function openSigner(database: Database): Signer {
  const useMeta = database.useStore('meta');

  /** Two windows may come at once: the first key that is there is the one for both. */
  async function firstKey(): Promise<unknown> {
    const there = await useMeta('readonly', (meta) => promisifyRequest<unknown>(meta.get(name)));
    if (there !== undefined) return there;
    const made = await newSigningKey();
    return useMeta('readwrite', async (meta) => {
      const done = committed(meta.transaction);
      const before = await promisifyRequest<unknown>(meta.get(name));
      if (before === undefined) meta.put(made, name);
      await done;
      return before ?? made;
    });
  }

  async function pair(): Promise<CryptoKeyPair | undefined> {
    const found: { pair?: CryptoKeyPair } = {};
    await ask('database', limitMs, async () => {
      const key = await firstKey();
      if (isPair(key)) found.pair = key;
      return { ok: true };
    });
    return found.pair;
  }

  async function sign(head: Head): Promise<Signed | undefined> {
    const key = await pair();
    return key && signHead(key, head).catch(() => undefined);
  }

  return {
    sign,
    code: async () => {
      const signed = await sign({ caseId: 'none', rows: 0, head: '' });
      return signed && keyCode(signed.by);
    },
  };
}

function isPair(value: unknown): value is CryptoKeyPair {
  if (typeof value !== 'object' || value === null) return false;
  const { privateKey, publicKey } = value as Partial<CryptoKeyPair>; // a parser: unknown until here
  return privateKey instanceof CryptoKey && publicKey instanceof CryptoKey;
}
