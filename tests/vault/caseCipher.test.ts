import { expect, test } from 'vitest';
import { caseCipher } from '#vault/caseCipher.ts';

const key = new Uint8Array(32).map((_, index) => index * 7);
const texts = ['{}', '{"text":"Müller 縫合"}', 'x'.repeat(700), 'y'.repeat(64), ''];

/** HMAC-SHA-256 under the key that HKDF gives, by the platform's own cryptography. */
async function platformIv(text: string): Promise<Uint8Array> {
  const base = await crypto.subtle.importKey('raw', key, 'HKDF', false, ['deriveKey']);
  const info = new TextEncoder().encode('lastlook iv');
  const how = { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(), info };
  const kind = { name: 'HMAC', hash: 'SHA-256', length: 256 };
  const ivKey = await crypto.subtle.deriveKey(how, base, kind, false, ['sign']);
  const mac = await crypto.subtle.sign('HMAC', ivKey, new TextEncoder().encode(text));
  return new Uint8Array(mac).slice(0, 12);
}

test('a row is sealed as it always was: its IV is the platform’s HMAC over it', async () => {
  const cipher = await caseCipher(key, 'case-1');
  for (const text of texts) {
    const sealed = await cipher.seal(text);
    const iv = Buffer.from(sealed, 'base64').subarray(0, 12);
    expect([...iv]).toEqual([...(await platformIv(text))]);
    expect(await cipher.seal(text)).toBe(sealed);
    expect(await cipher.open(sealed)).toBe(text);
  }
});

test('rows of two cases under one key are not opened by one another', async () => {
  const [one, other] = [await caseCipher(key, 'case-1'), await caseCipher(key, 'case-2')];
  const sealed = await one.seal('{"row":1}');
  expect(await other.open(sealed)).toBeUndefined();
});
