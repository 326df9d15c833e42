import { type Bytes, randomBytes, utf8 } from './bytes.ts';
import { sealingKey } from './pinKey.ts';

/** Without I, L, O and U, which are misread. Source: Douglas Crockford, "Base 32". */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** 26 letters of 5 bits: 130 bits of chance, which nobody tries out. */
const length = 26;

/** A code for paper, in groups of five. */
export function newRecoveryCode(): string {
  const code = Array.from(randomBytes(length), (byte) => letters[byte & 31] ?? '').join('');
  return (code.match(/.{1,5}/g) ?? []).join('-');
}

/** The letters of a code as a person typed it; undefined where they are not a whole code. */
export function readRecoveryCode(typed: string): string | undefined {
  const code = typed.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1');
  const isWhole = code.length === length && [...code].every((letter) => letters.includes(letter));
  return isWhole ? code : undefined;
}

/** The key that a code is worth. It is long enough not to need slowing down. Source: RFC 5869 (HKDF). */
export async function recoveryKey(code: string, salt: Bytes): Promise<CryptoKey> {
  const base = await crypto.subtle.importKey('raw', utf8(code), 'HKDF', false, ['deriveBits']);
  const how = { name: 'HKDF', hash: 'SHA-256', salt, info: utf8('lastlook recovery') };
  return sealingKey(new Uint8Array(await crypto.subtle.deriveBits(how, base, 256)));
}
