import { type Bytes, fromHex, randomBytes, toHex, utf8 } from './bytes.ts';

/** Units: bytes. 96 bits, the length that AES-GCM is made for. Source: NIST SP 800-38D, section 5.2.1.1. */
export const ivBytes = 12;

/**
 * AES-GCM with a tag of 128 bits. `about` is not secret but may not be changed.
 *
 * Source: NIST SP 800-38D, through the browser's own implementation.
 */
export async function encrypt(
  key: CryptoKey,
  iv: Bytes,
  plain: Bytes,
  about: Bytes,
): Promise<Bytes> {
  const how = { name: 'AES-GCM', iv, additionalData: about };
  return new Uint8Array(await crypto.subtle.encrypt(how, key, plain));
}

/** Undefined where the key is another, or a bit of it was changed. */
export async function decrypt(
  key: CryptoKey,
  iv: Bytes,
  sealed: Bytes,
  about: Bytes,
): Promise<Bytes | undefined> {
  try {
    const how = { name: 'AES-GCM', iv, additionalData: about };
    return new Uint8Array(await crypto.subtle.decrypt(how, key, sealed));
  } catch {
    return undefined;
  }
}

/** A few bytes sealed under a key, as hex. For keys: few are ever made, so the IV is chance. */
export async function sealBytes(key: CryptoKey, plain: Bytes, about: string): Promise<string> {
  const iv = randomBytes(ivBytes);
  return toHex(iv) + toHex(await encrypt(key, iv, plain, utf8(about)));
}

/** What `sealBytes` sealed; undefined where key, text or `about` is another. */
export async function openBytes(
  key: CryptoKey,
  text: string,
  about: string,
): Promise<Bytes | undefined> {
  const bytes = fromHex(text);
  if (!bytes || bytes.length <= ivBytes) return undefined;
  return decrypt(key, bytes.slice(0, ivBytes), bytes.slice(ivBytes), utf8(about));
}
