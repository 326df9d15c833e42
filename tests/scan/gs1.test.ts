import { describe, expect, test } from 'vitest';
import { dayOf, fullYear } from '#scan/days.ts';
import { checkDigit, expiryOf, hasCheckDigit, parseElements, readable } from '#scan/gs1.ts';
import { readScan } from '#scan/readScan.ts';
import { separator } from '#scan/separator.ts';

/*
 * Check values of GS1: the manual calculation pages of gs1.org and gs1.se; the test vectors of the dictionary
 * (lint_csum, lint_yymmd0) and of the engine (scandata.c, ai.c), release 2026; FDA, "UDI formats by FDA-accredited
 * issuing agency", 1.3 (2017). ␝ stands for the separator.
 */
const now = '2026-01-05T13:20:00+00:00';
const sent = (text: string): string => text.replaceAll('␝', separator);

function read(text: string): string {
  const scan = readScan(sent(text), now);
  if (scan.kind === 'gs1') return readable(scan.elements);
  return scan.kind === 'unreadable' ? `unreadable: ${scan.sentence}` : scan.kind;
}

describe('check digits', () => {
  test.each([
    ['629104150021', 3], // gs1.org
    ['730001100001', 7], // gs1.se
    ['2401234567890', 5], // this and what follows: GS1's engine, scandata.c
    ['211223378965', 7],
    ['41600033610', 8],
    ['0234568', 0],
  ])('the check digit of %s is %i', (digits, check) => {
    expect(checkDigit(digits)).toBe(check);
  });

  test.each([
    ['02345673', '12345673'],
    ['416000336108', '416000336109'],
    ['1234567890128', '1234567890129'],
    ['12345678901231', '12345678901232'],
    ['123456789012345675', '123456789012345670'],
  ])('%s is right and %s is wrong', (right, bad) => {
    expect(hasCheckDigit(right)).toBe(true);
    expect(hasCheckDigit(bad)).toBe(false);
  });

  test('a blank is no digit', () => {
    expect(hasCheckDigit('12345678 012345675')).toBe(false);
  });
});

describe('days', () => {
  test.each(['200229', '000229', '960229', '240229', '200600'])('%s is a day', (digits) => {
    expect(dayOf(digits, now)).toBeDefined();
  });

  test.each(['210229', '220229', '200230', '200431', '201131', '200010', '201310', '209910'])(
    '%s is none',
    (digits) => {
      expect(dayOf(digits, now)).toBeUndefined();
    },
  );

  test.each(['11111', '20013x'])('%s is too short or not made of digits', (digits) => {
    expect(dayOf(digits, now)).toBeUndefined();
  });

  test('day 00 is the last day of the month, also in a leap year, and says so', () => {
    expect(dayOf('130200', now)).toEqual({ date: '2013-02-28', isMonthOnly: true });
    expect(dayOf('160200', now)).toEqual({ date: '2016-02-29', isMonthOnly: true });
    expect(dayOf('270228', now)).toEqual({ date: '2027-02-28', isMonthOnly: false });
  });

  test.each([
    [71, 2021, 2071],
    [72, 2021, 1972],
    [76, 2026, 2076],
    [77, 2026, 1977],
    [0, 1999, 2000],
    [49, 1999, 2049],
    [50, 1999, 1950],
  ])('year %i read in %i is %i', (yy, thisYear, year) => {
    expect(fullYear(yy, thisYear)).toBe(year);
  });
});

describe('element strings', () => {
  test.each([
    [']d2011231231231233310ABC123␝99TESTING', '(01)12312312312333 (10)ABC123 (99)TESTING'],
    [']C1011231231231233310ABC123␝99TESTING', '(01)12312312312333 (10)ABC123 (99)TESTING'],
    [']Q3011231231231233310ABC123␝99TESTING', '(01)12312312312333 (10)ABC123 (99)TESTING'],
    [
      ']e0011231231231233310ABC123␝1199122598TESTING␝97XYZ',
      '(01)12312312312333 (10)ABC123 (11)991225 (98)TESTING (97)XYZ',
    ],
    [']C10112312312312333235XYZ␝10ABC', '(01)12312312312333 (235)XYZ (10)ABC'],
    [
      ']d201510222222333361114123117150707' + '10A213B1␝211234',
      '(01)51022222233336 (11)141231 (17)150707 (10)A213B1 (21)1234',
    ],
    [
      ']d20109506000134352' + '1727123110ABC123␝21S1',
      '(01)09506000134352 (17)271231 (10)ABC123 (21)S1',
    ],
    [']E02112345678900', '(01)02112345678900'],
    [']E402345673', '(01)00000002345673'],
  ])('%s', (text, expected) => {
    expect(read(text)).toBe(expected);
  });

  test.each([
    ['01095060001343521727123110ABC123␝21S1', 'no symbology identifier'],
    [']d2␝01095060001343521727123110ABC123␝21S1', 'one separator in front, as some scanners send'],
    [']d20109506000134352␝17271231␝10ABC123␝21S1', 'separators behind what has a known length'],
    [']d201095060001343521727123110ABC123␝21S1␝', 'a separator at the end'],
    [']d20109506000134352' + '0109506000134352' + '1727123110ABC123␝21S1', 'the same said twice'],
  ])('%s is read all the same: %s', (text) => {
    expect(read(text)).toBe('(01)09506000134352 (17)271231 (10)ABC123 (21)S1');
  });

  test('a lot that looks like other elements stays a lot', () => {
    expect(read(']d2010950600013435210171231␝21S1')).toBe('(01)09506000134352 (10)171231 (21)S1');
  });

  test.each([
    [']d20109506000134353', /check digit/],
    [']d2010950600013435217271331', /is no day/],
    [']d2010950600013435217270229', /is no day/],
    [']d2010950600013435210ABCDEFGHIJKLMNOPQRSTU', /Lot \(10\) is too long/],
    [']d2010950600013435210AB C', /a sign that may not be in it/],
    [']d20109506000134352375', /cannot stand beside/],
    [']d20212345678901231375', /stands alone/],
    [']d20109506000134352' + '0112312312312333', /twice, differently/],
    [']d2010950600013435210␝21S1', /Lot \(10\) is empty/],
    [']d2010950600013435', /too short/],
    [']d20109506000134352172712', /too short/],
    [']d210ABC123', /stands alone: the number of the item is missing/],
    [']d2010950600013435210AB␝21S1␝235XY', /cannot stand beside/],
    [']d201095060001343525512', /not known here/],
    [']d27003270229' + '1200', /is no day/],
    [']d201095060001343527003' + '2702011260', /is no time/],
    [']E02112345678901', /check digit/],
    [']E402345674', /check digit/],
    [']d2', /empty/],
    [']C1', /empty/],
    [']Q3', /empty/],
    [']e0', /empty/],
    [']', /not known here/],
    [']X', /not known here/],
    [']XX', /not known here/],
    [']C0', /not known here/],
    [']E0', /check digit/],
    ['0109506000134352␝10␝', /empty/],
  ])('%s is refused', (text, why) => {
    expect(read(text)).toMatch(/^unreadable: /);
    expect(read(text)).toMatch(why);
  });

  test('wristbands and badges are numbers of people, never both', () => {
    expect(read(']d28018123456789012345675')).toBe('(8018)123456789012345675');
    expect(read(']d28017123456789012345675␝8018123456789012345675')).toMatch(/cannot stand beside/);
  });

  test('a plain text is a plain text, also one that begins with digits', () => {
    for (const text of ['ZZ-TEST-0001', '0123456', '01A', ']A0ZZ-TEST-0001', '0109506000134353'])
      expect(read(text)).toBe('plain');
  });

  test('the expiry is the day printed, or the end of the month', () => {
    const expiry = (digits: string) => {
      const parsed = parseElements(`0109506000134352${digits}`, now);
      return parsed.ok ? expiryOf(parsed.elements, now) : parsed.sentence;
    };
    expect(expiry('17271231')).toEqual({ date: '2027-12-31', isMonthOnly: false });
    expect(expiry('17260200')).toEqual({ date: '2026-02-28', isMonthOnly: true });
    expect(expiry('70032702011230')).toEqual({ date: '2027-02-01', isMonthOnly: false });
    expect(expiry('10ABC')).toBeUndefined();
  });
});
