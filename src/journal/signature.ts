import { canonicalJson } from './canonical.ts';
import { codeOf } from './chainCode.ts';
import { isRecord } from './parseEnvelope.ts';

/** What is signed: where the chain of a case ended. Every row before it is in that hash. */
export type Head = { readonly caseId: string; readonly rows: number; readonly head: string };

/** A signature and the public key that it fits, both in hex. */
export type Signed = {
  /** The point of the key, not compressed: 04, then x and y. Source: SEC 1, section 2.3.3. */
  readonly by: string;
  /** r and s, 32 bytes each. */
  readonly signature: string;
};

/** Source: FIPS 186-5 (ECDSA) on P-256 with SHA-256, through the browser's own implementation. */
const kind = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' } as const;

const keyForm = /^04[0-9a-f]{128}$/;
const signatureForm = /^[0-9a-f]{128}$/;

/** A key of which only the public half can ever be read. */
export async function newSigningKey(): Promise<CryptoKeyPair> {
  return crypto.subtle.generateKey(kind, false, ['sign', 'verify']);
}

/** Signs where a chain ends. */
export async function signHead(
  { privateKey, publicKey }: CryptoKeyPair,
  head: Head,
): Promise<Signed> {
  const [by, signature] = await Promise.all([
    crypto.subtle.exportKey('raw', publicKey),
    crypto.subtle.sign(kind, privateKey, messageOf(head)),
  ]);
  return { by: hex(by), signature: hex(signature) };
}

/** Whether a signature is of this key over this end of a chain. */
export const fitsHead = (signed: Signed, head: Head): Promise<boolean> =>
  fits(signed, messageOf(head));

/** Whether a signature is of this key over these bytes. What is no key and no signature does not fit. */
export async function fits(
  { by, signature }: Signed,
  message: Uint8Array<ArrayBuffer>,
): Promise<boolean> {
  if (!isSigned({ by, signature })) return false;
  try {
    const key = await crypto.subtle.importKey('raw', bytesOf(by), kind, false, ['verify']);
    return await crypto.subtle.verify(kind, key, bytesOf(signature), message);
  } catch {
    return false; // A point that is not on the curve.
  }
}

/** Whether something has the form of a signature. Whether it fits is another question. */
export function isSigned(value: unknown): value is Signed {
  if (!isRecord(value)) return false;
  const { by, signature } = value;
  return (
    Object.keys(value).length === 2 &&
    typeof by === 'string' &&
    keyForm.test(by) &&
    typeof signature === 'string' &&
    signatureForm.test(signature)
  );
}

/** The short form of a key, to be compared by eye: 80 bits of its SHA-256. */
export async function keyCode(by: string): Promise<string> {
  return codeOf(hex(await crypto.subtle.digest('SHA-256', bytesOf(by))), 4);
}

function messageOf({ caseId, rows, head }: Head): Uint8Array<ArrayBuffer> {
  const canonical = canonicalJson({ signs: 'lastlook-journal', caseId, rows, head });
  return new TextEncoder().encode(canonical.ok ? canonical.text : '');
}

const hex = (bytes: ArrayBuffer): string =>
  Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('');

const bytesOf = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from({ length: text.length / 2 }, (_, at) =>
    Number.parseInt(text.slice(2 * at, 2 * at + 2), 16),
  );
