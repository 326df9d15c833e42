import { type Bytes, utf8 } from './bytes.ts';

/**
 * Rounds of PBKDF2-HMAC-SHA-256 for a new PIN.
 *
 * Source: OWASP Password Storage Cheat Sheet, section PBKDF2, 600,000 for HMAC-SHA-256 (copy of August 2026); the
 * same figure in OWASP ASVS 5.0, appendix C.
 */
export const pinRounds = 600_000;

/**
 * Makes guessing slow: bytes that cost `rounds` hashes to reach from a password.
 *
 * Source: RFC 8018, section 5.2, through the browser's own implementation.
 */
export async function stretched(
  password: string,
  salt: Bytes,
  rounds: number,
  length: number,
): Promise<Bytes> {
  const base = await crypto.subtle.importKey('raw', utf8(password), 'PBKDF2', false, [
    'deriveBits',
  ]);
  const how = { name: 'PBKDF2', hash: 'SHA-256', salt, iterations: rounds };
  return new Uint8Array(await crypto.subtle.deriveBits(how, base, length * 8));
}

/** The key that a PIN is worth, with the salt and rounds that are kept beside the person. */
export async function pinKey(pin: string, salt: Bytes, rounds: number): Promise<CryptoKey> {
  return sealingKey(await stretched(pin, salt, rounds, 32));
}

/** An AES-256 key for `sealBytes` and `openBytes`, which the page cannot read back. */
export const sealingKey = (bytes: Bytes): Promise<CryptoKey> =>
  crypto.subtle.importKey('raw', bytes, 'AES-GCM', false, ['encrypt', 'decrypt']);
