import { crc32 } from './crc32.ts';

/** Bytes before each text in the file: its length and its CRC-32, both 32 bits, low byte first. */
const recordHeaderBytes = 8;

/** What a file of records holds. `validBytes` is where the next record belongs. */
export type Records = {
  readonly texts: readonly string[];
  readonly validBytes: number;
  /** Something follows the last whole record, or stands in its place. */
  readonly damaged: boolean;
};

/** One record: length, CRC-32, text in UTF-8. */
export function encodeRecord(text: string): Uint8Array<ArrayBuffer> {
  const payload = new TextEncoder().encode(text);
  const record = new Uint8Array(recordHeaderBytes + payload.length);
  const view = new DataView(record.buffer);
  view.setUint32(0, payload.length, true);
  view.setUint32(4, crc32(payload), true);
  record.set(payload, recordHeaderBytes);
  return record;
}

/** Reads whole records from the start and stops before the first that is not as it was written. */
export function decodeRecords(bytes: Uint8Array): Records {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  const texts: string[] = [];
  let at = 0;
  while (at + recordHeaderBytes <= bytes.length) {
    const length = view.getUint32(at, true);
    const from = at + recordHeaderBytes;
    // A stretch of zeros would otherwise pass: the CRC-32 of nothing is 0.
    if (length === 0 || from + length > bytes.length) break;
    const payload = bytes.subarray(from, from + length);
    if (crc32(payload) !== view.getUint32(at + 4, true)) break;
    texts.push(decoder.decode(payload));
    at = from + length;
  }
  return { texts, validBytes: at, damaged: at !== bytes.length };
}
