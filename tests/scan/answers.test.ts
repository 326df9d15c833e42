import { describe, expect, test } from 'vitest';
import { compareWristband } from '#scan/compareWristband.ts';
import { fnv64 } from '#scan/fnv64.ts';
import { compareLabel, labelAnywhere, labelCodeOf, readLabelCode } from '#scan/labelCode.ts';
import { isSameItem, itemIn, lotWords, packOf } from '#scan/packOf.ts';
import { readScan } from '#scan/readScan.ts';
import { separator } from '#scan/separator.ts';
import { given, opening, specimenGone } from '../support/given.ts';

const now = '2026-01-05T13:20:00+00:00';
const scanned = (text: string) => readScan(text.replaceAll('␝', separator), now);

describe('packs', () => {
  const code = ']d20109506000134352' + '1727123110ABC123␝21S1';

  test('lot, serial number and expiry go to the line as they are printed', () => {
    const answer = packOf(scanned(code), now);
    expect(answer).toEqual({
      ok: true,
      pack: {
        words: '(01)09506000134352 (17)271231 (10)ABC123 (21)S1',
        item: '09506000134352',
        lot: 'ABC123',
        serial: 'S1',
        expires: { date: '2027-12-31', isMonthOnly: false },
      },
    });
    expect(answer.ok && lotWords(answer.pack)).toBe(
      'ABC123, serial S1, expires 2027-12-31; (01)09506000134352 (17)271231 (10)ABC123 (21)S1',
    );
  });

  test.each([
    ['260104', 'This pack expired on 2026-01-04. Set it aside, and take another.'],
    ['251200', 'This pack expired at the end of 2025-12. Set it aside, and take another.'],
  ])('one that expired, %s, is refused with its date', (day, sentence) => {
    expect(packOf(scanned(`]d20109506000134352${'17'}${day}`), now)).toEqual({
      ok: false,
      sentence,
    });
  });

  test.each(['260105', '260100'])('one that expires today or this month, %s, is taken', (day) => {
    expect(packOf(scanned(`]d20109506000134352${'17'}${day}`), now).ok).toBe(true);
  });

  test('HIBC and ISBT 128 are kept as they were sent', () => {
    for (const [text, words, item] of [
      ['+A123BJC5D6E71G', 'HIBC +A123BJC5D6E71G', { item: '+A123BJC5D6E71' }],
      ['=G12349865432177', 'ISBT 128 =G12349865432177', {}],
    ] as const) {
      const answer = packOf(scanned(text), now);
      expect(answer).toEqual({ ok: true, pack: { words, ...item } });
      expect(answer.ok && lotWords(answer.pack)).toBe(words);
    }
  });

  test('the item is found again in what the record keeps', () => {
    const gs1 = packOf(scanned(code), now);
    expect(gs1.ok && itemIn(lotWords(gs1.pack))).toBe('09506000134352');
    expect(itemIn('HIBC +A123BJC5D6E71G')).toBe('+A123BJC5D6E71');
    expect(itemIn('HIBC +A123BJC5D6E71/$$52001510X3G')).toBe('+A123BJC5D6E71');
    expect(itemIn('HIBC +$$52001510X3G')).toBeUndefined();
    expect(itemIn('ISBT 128 =G12349865432177')).toBeUndefined();
    expect(itemIn('ABC123 from the box')).toBeUndefined();
    expect(isSameItem('9506000134352', '09506000134352')).toBe(true);
    expect(isSameItem('+A123BJC5D6E71', '+A123BJC5D6E72')).toBe(false);
  });

  test('how many pieces it holds is known where it says so', () => {
    const answer = packOf(scanned(']d20109506000134352' + '3010␝10ABC'), now);
    expect(answer.ok && answer.pack.pieces).toBe(10);
  });

  test.each([
    'ZZ-TEST-0001',
    ']d28018123456789012345675',
    ']d20109506000134353',
    'LL00000000000000000',
  ])('%s is no pack that can be used', (text) => {
    expect(packOf(scanned(text), now).ok).toBe(false);
  });
});

describe('wristbands', () => {
  const { current } = given();

  test.each(['TR-100', ']C0TR-100', ' tr-100'])('%s is this patient', (text) => {
    expect(compareWristband(current, scanned(text))).toEqual({ agrees: true });
  });

  test('a recipient number of GS1 is compared as well', () => {
    const patient = { ...opening.patient, number: '123456789012345675' };
    const code = scanned(']d28018123456789012345675');
    expect(compareWristband({ ...current, patient }, code)).toEqual({ agrees: true });
    expect(compareWristband(current, code)).toMatchObject({ agrees: false, isOther: true });
  });

  test.each(['TR-101', 'TR-1000', 'R-100', 'TR100'])('%s is another patient, and stops', (text) => {
    expect(compareWristband(current, scanned(text))).toEqual({
      agrees: false,
      isOther: true,
      isSure: true,
      said: text,
      sentence: `Stop. The wristband says ${text}. This case is of Testcase, Ash, TR-100. Find out who this is before anything else is done.`,
    });
  });

  test.each(['AX4711-B', '100', 'https://example.org/x', 'TR-100-TR-100', 'TR-10000'])(
    '%s is made in another way, so that it is asked whether it was a wristband',
    (text) => {
      expect(compareWristband(current, scanned(text))).toMatchObject({
        agrees: false,
        isOther: true,
        isSure: false,
      });
    },
  );

  test('what is said of a code does not grow with the code', () => {
    const answer = compareWristband(current, scanned('x'.repeat(400)));
    expect(!answer.agrees && answer.sentence.length).toBeLessThan(250);
  });

  test('a pack is no wristband', () => {
    expect(compareWristband(current, scanned(']d20109506000134352'))).toMatchObject({
      agrees: false,
      isOther: false,
    });
  });
});

describe('the code of a specimen label', () => {
  const added = [
    ...specimenGone.slice(0, 2),
    { type: 'specimen', id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
    { type: 'specimen', id: 'node', step: 'taken' },
  ] as const;
  const { current } = given(...added);
  const lump = current.specimens.lump;
  const node = current.specimens.node;
  if (!lump || !node) throw new Error('the specimens are there');
  const code = labelCodeOf(current, lump);

  test('it holds nothing of the patient, and is as long as a small label takes', () => {
    expect(code).toMatch(/^LL\d{16}$/);
    expect(scanned(code)).toEqual({ kind: 'label', raw: code, text: code });
    expect(scanned(`]C0${code}`).kind).toBe('label');
  });

  test('the right label is right', () => {
    expect(compareLabel(current, lump, code)).toEqual({ is: 'right' });
  });

  test('the label of another specimen, of another patient, or from before a change is named', () => {
    const say = (text: string) => {
      const answer = compareLabel(current, lump, text);
      return answer.is === 'wrong' ? answer.sentence : 'right';
    };
    expect(say(labelCodeOf(current, node))).toContain(
      `is of ${node.letter} Node. It is on the wrong pot`,
    );
    expect(say(labelCodeOf({ ...current, id: 'other' }, lump))).toContain('of another patient');
    const wrongSide = { ...lump, side: 'right' } as const;
    expect(say(labelCodeOf(current, wrongSide))).toContain('before something on it was changed');
  });

  test('it is recognised while no pot waits for it', () => {
    expect(labelAnywhere(current, code)).toEqual({ is: 'here', specimen: lump });
    expect(labelAnywhere(current, labelCodeOf({ ...current, id: 'other' }, lump))).toMatchObject({
      is: 'wrong',
      isOther: true,
    });
    const without = { ...current, specimens: {} };
    expect(labelAnywhere(without, code)).toMatchObject({ is: 'wrong', isOther: false });
    const wrongSide = { ...lump, side: 'right' } as const;
    expect(labelAnywhere(current, labelCodeOf(current, wrongSide))).toMatchObject({
      is: 'wrong',
      isOther: false,
    });
  });

  test('one digit misread is seen, wherever it is', () => {
    for (let place = 2; place < code.length; place += 1) {
      const digit = (Number(code[place]) + 1) % 10;
      const misread = `${code.slice(0, place)}${digit}${code.slice(place + 1)}`;
      expect(readLabelCode(misread)).toBeUndefined();
      expect(compareLabel(current, lump, misread)).toMatchObject({ is: 'wrong' });
    }
  });

  /* FNV-1a, 64 bit: 'foobar' and the empty text, from the authors' own list of test vectors. */
  test('the digits come from the published hash', () => {
    expect(fnv64('foobar')).toBe(0x85944171f73967e8n);
    expect(fnv64('')).toBe(0xcbf29ce484222325n);
  });
});
