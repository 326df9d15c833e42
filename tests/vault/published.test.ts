import { describe, expect, test } from 'vitest';
import { type Bytes, fromHex, toHex } from '#vault/bytes.ts';
import { pinRounds, sealingKey, stretched } from '#vault/pinKey.ts';
import { decrypt, encrypt } from '#vault/sealBytes.ts';
import { unwrapKey, wrapKey } from '#vault/wrapKey.ts';

const bytes = (hex: string): Bytes =>
  fromHex(hex.replace(/\s/g, '').toLowerCase()) ?? new Uint8Array();

const utf8Bytes = (text: string): Bytes => new TextEncoder().encode(text);

describe('PBKDF2-HMAC-SHA-256 gives the values of RFC 7914, section 11', () => {
  test.each([
    [
      'passwd',
      'salt',
      1,
      `55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc
       49ca9cccf179b645991664b39d77ef317c71b845b1e30bd509112041d3a19783`,
    ],
    [
      'Password',
      'NaCl',
      80_000,
      `4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56
       a1d425a1225833549adb841b51c9b3176a272bdebba1d078478f62b397f33c8d`,
    ],
  ])('%s with %s, %i rounds', async (password, salt, rounds, wanted) => {
    expect(await stretched(password, utf8Bytes(salt), rounds, 64)).toEqual(bytes(wanted));
  });

  test('and a new PIN costs what OWASP asks for: 600,000 rounds', () => {
    expect(pinRounds).toBeGreaterThanOrEqual(600_000);
  });
});

/** McGrew and Viega, "The Galois/Counter Mode of Operation (GCM)", appendix B, test cases 13, 14 and 16. */
describe('AES-256-GCM gives the values of its designers', () => {
  const key16 = 'feffe9928665731c6d6a8f9467308308 feffe9928665731c6d6a8f9467308308';
  test.each([
    ['13', '00'.repeat(32), '00'.repeat(12), '', '', '', '530f8afbc74536b9a963b4f1c4cb738b'],
    [
      '14',
      '00'.repeat(32),
      '00'.repeat(12),
      '00'.repeat(16),
      '',
      'cea7403d4d606b6e074ec5d3baf39d18',
      'd0d1c8a799996bf0265b98b5d48ab919',
    ],
    [
      '16',
      key16,
      'cafebabefacedbaddecaf888',
      `d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a72
       1c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b39`,
      'feedfacedeadbeeffeedfacedeadbeefabaddad2',
      `522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa
       8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662`,
      '76fc6ece0f4e1768cddf8853bb2d551b',
    ],
  ])('test case %s', async (_, keyHex, iv, plain, about, sealed, tag) => {
    const key = await sealingKey(bytes(keyHex));
    const whole = bytes(sealed + tag);
    expect(await encrypt(key, bytes(iv), bytes(plain), bytes(about))).toEqual(whole);
    expect(await decrypt(key, bytes(iv), whole, bytes(about))).toEqual(bytes(plain));
    for (const at of whole.keys()) {
      const bent = whole.map((byte, place) => (place === at ? byte ^ 1 : byte));
      expect(await decrypt(key, bytes(iv), bent, bytes(about))).toBeUndefined();
    }
  });
});

describe('AES key wrap gives the value of RFC 3394, section 4.6', () => {
  const kek = bytes('000102030405060708090A0B0C0D0E0F101112131415161718191A1B1C1D1E1F');
  const data = bytes('00112233445566778899AABBCCDDEEFF000102030405060708090A0B0C0D0E0F');
  const wrapped =
    '28c9f404c4b810f4cbccb35cfb87f8263f5786e2d80ed326cbc7f0e71a99f43bfb988b9b7a02dd21';

  test('256 bits of key under 256 bits, there and back', async () => {
    expect(await wrapKey(kek, data)).toBe(wrapped);
    expect(await unwrapKey(kek, wrapped)).toEqual(data);
  });

  test('and opens under no other key, nor when a bit was changed', async () => {
    expect(await unwrapKey(data, wrapped)).toBeUndefined();
    const bent = bytes(wrapped).map((byte, place) => (place === 7 ? byte ^ 0x80 : byte));
    expect(await unwrapKey(kek, toHex(bent))).toBeUndefined();
    expect(await unwrapKey(kek, 'not hex')).toBeUndefined();
  });
});
