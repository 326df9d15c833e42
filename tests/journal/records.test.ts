import { expect, test } from 'vitest';
import { chainCode } from '#journal/chainCode.ts';
import { crc32 } from '#journal/crc32.ts';
import { decodeRecords, encodeRecord } from '#journal/records.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const texts = ['{"a":1}', '{"b":"€ and 😀"}', '{"c":[1,2,3]}'];
const file = Buffer.concat(texts.map(encodeRecord));

test('CRC-32 of "123456789" is the published check value 0xCBF43926', () => {
  expect(crc32(bytesOf('123456789'))).toBe(0xcbf43926);
  expect(crc32(bytesOf(''))).toBe(0);
});

test('records are read as they were written', () => {
  expect(decodeRecords(file)).toEqual({ texts, validBytes: file.length, damaged: false });
  expect(decodeRecords(new Uint8Array())).toEqual({ texts: [], validBytes: 0, damaged: false });
});

test('a file cut anywhere gives its whole records and says that something was cut', () => {
  const ends = texts.map((_, index) => Buffer.concat(texts.slice(0, index + 1).map(encodeRecord)));
  for (let length = 0; length < file.length; length += 1) {
    const whole = ends.filter((end) => end.length <= length).length;
    const read = decodeRecords(file.subarray(0, length));
    expect(read.texts).toEqual(texts.slice(0, whole));
    expect(read.damaged).toBe(read.validBytes !== length);
  }
});

test('any flipped bit is noticed, and what stands before it is still read', () => {
  for (let at = 0; at < file.length * 8; at += 1) {
    const flipped = Buffer.from(file);
    flipped.writeUInt8(flipped.readUInt8(at >> 3) ^ (1 << (at & 7)), at >> 3);
    const read = decodeRecords(flipped);
    expect(read.damaged).toBe(true);
    expect(read.texts).toEqual(texts.slice(0, read.texts.length));
  }
});

test('zeros at the end, as a power cut leaves them, are no records', () => {
  const read = decodeRecords(Buffer.concat([file, Buffer.alloc(64)]));
  expect(read).toEqual({ texts, validBytes: file.length, damaged: true });
});

test('the chain code is the first 40 bits of the hash in eight letters', () => {
  expect(chainCode(`0000000000${'f'.repeat(54)}`)).toBe('0000-0000');
  expect(chainCode(`ffffffffff${'0'.repeat(54)}`)).toBe('ZZZZ-ZZZZ');
  // By hand: 00000 00001 00010 ... 00111 are the values 0 to 7.
  expect(chainCode(`00443214c7${'0'.repeat(54)}`)).toBe('0123-4567');
  expect(chainCode(`${(31n << 35n).toString(16)}${'0'.repeat(54)}`)).toBe('Z000-0000');
});
