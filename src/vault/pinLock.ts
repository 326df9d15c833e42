import type { PinLock } from './book.ts';
import { type Bytes, fromHex, randomBytes, toHex } from './bytes.ts';
import { pinKey } from './pinKey.ts';
import { openBytes, sealBytes } from './sealBytes.ts';

/** The two that together open the unit's key. */
type Pair = { readonly pin: string; readonly deviceKey: CryptoKey };

const saltBytes = 16;

/** Seals the unit's key for one person: by the PIN within, and by the tablet's own key around it. */
export async function makePinLock(
  person: string,
  unitKey: Bytes,
  { pin, deviceKey }: Pair,
  rounds: number,
): Promise<PinLock> {
  const salt = randomBytes(saltBytes);
  const about = `lastlook pin ${person}`;
  const inner = await sealBytes(await pinKey(pin, salt, rounds), unitKey, about);
  const innerBytes = fromHex(inner) ?? new Uint8Array();
  const sealed = await sealBytes(deviceKey, innerBytes, about);
  return { salt: toHex(salt), rounds, digits: pin.length, sealed };
}

/**
 * The unit's key; `wrong` where the PIN is another, `lost` where the tablet's own key is. The PIN is never compared
 * with anything: it opens, or it does not.
 */
export async function openPinLock(
  person: string,
  lock: PinLock,
  { pin, deviceKey }: Pair,
): Promise<Bytes | 'wrong' | 'lost'> {
  const about = `lastlook pin ${person}`;
  const inner = await openBytes(deviceKey, lock.sealed, about);
  if (!inner) return 'lost';
  const key = await pinKey(pin, fromHex(lock.salt) ?? new Uint8Array(), lock.rounds);
  return (await openBytes(key, toHex(inner), about)) ?? 'wrong';
}

/** The tablet's own key: the browser keeps it, and gives its bytes to nobody who asks through the page. */
export const newDeviceKey = (): Promise<CryptoKey> =>
  crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, false, ['encrypt', 'decrypt']);
