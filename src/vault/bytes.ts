/** Bytes that can be given to WebCrypto. */
export type Bytes = Uint8Array<ArrayBuffer>;

export const utf8 = (text: string): Bytes => new TextEncoder().encode(text);

export const randomBytes = (length: number): Bytes =>
  crypto.getRandomValues(new Uint8Array(length));

export const toHex = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

/** Undefined where the text is not whole bytes in lower-case hex. */
export function fromHex(text: string): Bytes | undefined {
  if (!/^(?:[0-9a-f]{2})*$/.test(text)) return undefined;
  return Uint8Array.from({ length: text.length / 2 }, (_, place) =>
    Number.parseInt(text.slice(2 * place, 2 * place + 2), 16),
  );
}

/** `btoa` takes letters, and no more arguments at once than a call may have. */
const stretch = 0x8000;

export function toBase64(bytes: Uint8Array): string {
  let letters = '';
  for (let at = 0; at < bytes.length; at += stretch)
    letters += String.fromCharCode(...bytes.subarray(at, at + stretch));
  return btoa(letters);
}

/** Undefined where the text is not base64 in its one canonical form. */
export function fromBase64(text: string): Bytes | undefined {
  try {
    const letters = atob(text);
    const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
    return toBase64(bytes) === text ? bytes : undefined;
  } catch {
    return undefined;
  }
}
