import { type Bytes, fromBase64, toBase64, utf8 } from './bytes.ts';
import { decrypt, encrypt, ivBytes } from './sealBytes.ts';

/** Seals and opens the rows of one case. */
export type CaseCipher = {
  /** The same text always gives the same sealed text, so that both homes of a row hold the same. */
  readonly seal: (text: string) => Promise<string>;
  /** Undefined where the row was changed, or is of another case. */
  readonly open: (sealed: string) => Promise<string | undefined>;
};

/**
 * The cipher of a case.
 *
 * The IV is the first 96 bits of HMAC-SHA-256 over the row under a key of its own: it never repeats for another text
 * but by chance, which stays under 2^-32 for the 2^32 rows that one key may seal. A row that is written again, after
 * a failure or to mend a home, is thereby the same bytes.
 *
 * Source: NIST SP 800-38D, section 8.3 (from memory), for that bound; RFC 5869 (HKDF) for two keys out of one.
 */
export async function caseCipher(caseKey: Bytes, caseId: string): Promise<CaseCipher> {
  const base = await crypto.subtle.importKey('raw', caseKey, 'HKDF', false, ['deriveKey']);
  const from = (info: string) => ({
    name: 'HKDF',
    hash: 'SHA-256',
    salt: new Uint8Array(),
    info: utf8(info),
  });
  const [rowKey, ivKey] = await Promise.all([
    crypto.subtle.deriveKey(from('lastlook row'), base, { name: 'AES-GCM', length: 256 }, false, [
      'encrypt',
      'decrypt',
    ]),
    crypto.subtle.deriveKey(
      from('lastlook iv'),
      base,
      { name: 'HMAC', hash: 'SHA-256', length: 256 },
      false,
      ['sign'],
    ),
  ]);
  const about = utf8(caseId);

  async function seal(text: string): Promise<string> {
    const plain = utf8(text);
    const iv = new Uint8Array(await crypto.subtle.sign('HMAC', ivKey, plain)).slice(0, ivBytes);
    const sealed = await encrypt(rowKey, iv, plain, about);
    const whole = new Uint8Array(ivBytes + sealed.length);
    whole.set(iv);
    whole.set(sealed, ivBytes);
    return toBase64(whole);
  }

  async function open(sealed: string): Promise<string | undefined> {
    const bytes = fromBase64(sealed);
    if (!bytes || bytes.length <= ivBytes) return undefined;
    const plain = await decrypt(rowKey, bytes.slice(0, ivBytes), bytes.slice(ivBytes), about);
    return plain && new TextDecoder().decode(plain);
  }

  return { seal, open };
}
