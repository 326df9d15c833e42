import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sha256 } from '#journal/sha256.ts';

describe('SHA-256 is what NIST gives in its examples for FIPS 180-4', () => {
  test.each([
    ['one block', 'abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'two blocks',
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    [
      'a million letters',
      'a'.repeat(1_000_000),
      'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0',
    ],
    ['nothing', '', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ])('%s', (_, text, hash) => {
    expect(sha256(text)).toBe(hash);
  });
});

describe('SHA-256 is the same as that of OpenSSL', () => {
  const theirs = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');

  test('for every length up to four blocks, so that every way of padding is among them', () => {
    for (let length = 0; length <= 256; length += 1) {
      const text = 'Ä'.repeat(length >> 1) + 'x'.repeat(length & 1);
      expect(sha256(text), `${length} bytes`).toBe(theirs(text));
    }
  });

  test('for any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 2000 }), (text) => {
        expect(sha256(text)).toBe(theirs(text));
      }),
    );
  });
});
