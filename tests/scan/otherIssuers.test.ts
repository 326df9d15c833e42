import { expect, test } from 'vitest';
import { hibcCheck, isbtCheck } from '#scan/otherIssuers.ts';
import { readScan } from '#scan/readScan.ts';

const kindOf = (text: string) => readScan(text, '2026-01-05T13:20:00+00:00').kind;

/* HIBC: the check character on which zint and bwip-js agree, and the one of idautomation's page on HIBC. */
test.each([
  ['+A123BJC5D6E71', 'G'],
  ['+A123ABCDEFGHI1234567891', 'E'],
])('the HIBC check character of %s is %s', (data, check) => {
  expect(hibcCheck(data)).toBe(check);
  expect(kindOf(data + check)).toBe('hibc');
  expect(kindOf(`]d1${data}${check}`)).toBe('hibc');
  expect(kindOf(`${data}A`)).toBe('plain');
});

test('a sign that HIBC does not have has no check character', () => {
  expect(hibcCheck('+a')).toBeUndefined();
});

/* ISBT 128: donation number G123 498 654 321, UK blood services' Red Book, annex 2: checksum 17, H, flags 77. */
test('the check of an ISBT 128 donation number is that of the Red Book', () => {
  expect(isbtCheck('G123498654321')).toBe(17);
  expect(kindOf('=G12349865432177')).toBe('isbt128');
  expect(kindOf('=G12349865432176')).toBe('plain');
  expect(kindOf('=G12349865432100')).toBe('isbt128');
  expect(kindOf('&>0210123120000')).toBe('isbt128');
  expect(isbtCheck('G12349865432')).toBeUndefined();
});

test('what was scanned is kept as it was sent', () => {
  const raw = ']d1+A123BJC5D6E71G';
  expect(readScan(raw, '2026-01-05T13:20:00+00:00')).toEqual({
    kind: 'hibc',
    raw,
    text: '+A123BJC5D6E71G',
  });
});
