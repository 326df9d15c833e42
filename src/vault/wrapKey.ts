import { type Bytes, fromHex, toHex } from './bytes.ts';

/**
 * The key of a case wrapped under the key of the unit, as hex. Needs no IV, and the same two keys always give the
 * same text, so that it can be written again.
 *
 * Source: RFC 3394 (AES key wrap), through the browser's own implementation.
 */
export async function wrapKey(unitKey: Bytes, caseKey: Bytes): Promise<string> {
  const [wrapping, wrapped] = await Promise.all([
    crypto.subtle.importKey('raw', unitKey, 'AES-KW', false, ['wrapKey']),
    // What is wrapped must be a key; for which algorithm does not show in the result.
    crypto.subtle.importKey('raw', caseKey, { name: 'HMAC', hash: 'SHA-256' }, true, ['sign']),
  ]);
  return toHex(new Uint8Array(await crypto.subtle.wrapKey('raw', wrapped, wrapping, 'AES-KW')));
}

/** Undefined where the unit's key is another, or a bit of the text was changed. */
export async function unwrapKey(unitKey: Bytes, text: string): Promise<Bytes | undefined> {
  const bytes = fromHex(text);
  if (!bytes) return undefined;
  const unwrapping = await crypto.subtle.importKey('raw', unitKey, 'AES-KW', false, ['unwrapKey']);
  try {
    const kind = { name: 'HMAC', hash: 'SHA-256' };
    const key = await crypto.subtle.unwrapKey('raw', bytes, unwrapping, 'AES-KW', kind, true, [
      'sign',
    ]);
    return new Uint8Array(await crypto.subtle.exportKey('raw', key));
  } catch {
    return undefined;
  }
}
