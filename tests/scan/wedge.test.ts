import { describe, expect, test } from 'vitest';
import { proofElements, proveScanner } from '#scan/proveScanner.ts';
import { separator } from '#scan/separator.ts';
import { type Key, makeWedge, type Step, type WedgeSettings } from '#scan/wedge.ts';

/** One key that goes down and up, and how long after the one before. Units: milliseconds. */
type Press = Partial<Omit<Key, 'atMs'>> & { readonly afterMs: number };

const keysOf = (text: string, afterMs: number): readonly Press[] =>
  [...text].map((key) => ({ key, afterMs }));
const enter = (afterMs: number): Press => ({ key: 'Enter', afterMs });
const alt = (digits: string, afterMs: number): readonly Press[] => [
  ...[...digits].map((digit) => ({ key: 'Insert', code: `Numpad${digit}`, alt: true, afterMs })),
  { key: 'Alt', afterMs },
];

/** What came of the keys: every scan, and how many keys the page did not see. */
function played(presses: readonly Press[], settings: WedgeSettings = {}) {
  const wedge = makeWedge(settings);
  const steps: Step[] = [];
  let atMs = 1000;
  for (const { key = '', code = '', ctrl = false, alt: held = false, afterMs } of presses) {
    atMs += afterMs;
    if (key !== 'Alt') steps.push(wedge.down({ key, code, ctrl, alt: held, atMs }));
    steps.push(wedge.up({ key, atMs }));
  }
  const scans = steps.flatMap(({ scan }) => (scan === undefined ? [] : [scan]));
  return { scans, swallowed: steps.filter(({ swallow }) => swallow).length };
}

describe('what is a scan', () => {
  test.each([1, 5, 12, 30])('keys every %i ms that end in Enter are one', (afterMs) => {
    const { scans, swallowed } = played([...keysOf(']C0ZZ-TEST-0001', afterMs), enter(afterMs)]);
    expect(scans).toEqual([']C0ZZ-TEST-0001']);
    expect(swallowed).toBe(1);
  });

  test.each([60, 90, 150, 400])('a person who types a key every %i ms makes none', (afterMs) => {
    expect(played([...keysOf('ZZ-TEST-0001', afterMs), enter(afterMs)])).toEqual({
      scans: [],
      swallowed: 0,
    });
  });

  test('pairs of keys rolled by two fingers are no scan', () => {
    const rolled = [...'Testcase, Ash'].map((key, place) => ({
      key,
      afterMs: place % 2 ? 20 : 75,
    }));
    expect(played([...rolled, enter(75)]).scans).toEqual([]);
  });

  test('a few fast keys are none: a name of two letters, a bouncing key', () => {
    expect(played([...keysOf('Ash', 10), enter(10)]).scans).toEqual([]);
    expect(played([...keysOf('11111', 5), enter(5)]).scans).toEqual([]);
  });

  test('fast keys without Enter are none, nor with an Enter that comes later', () => {
    expect(played(keysOf('ZZ-TEST-0001', 5)).scans).toEqual([]);
    expect(played([...keysOf('ZZ-TEST-0001', 5), enter(200)]).scans).toEqual([]);
  });

  test('what a person typed before the scan is not part of it', () => {
    const presses = [...keysOf('ZZ', 150), ...keysOf('4T77-0001', 5), enter(5)];
    const after = presses.map((press, place) => (place === 2 ? { ...press, afterMs: 150 } : press));
    expect(played(after).scans).toEqual(['4T77-0001']);
  });

  test('two scans one after the other are two', () => {
    const one = [...keysOf('ZZ-TEST-0001', 5), enter(5)];
    expect(played([...one, ...one]).scans).toEqual(['ZZ-TEST-0001', 'ZZ-TEST-0001']);
  });

  test('a stream without an end is dropped, and a scan after it is read', () => {
    const presses = [...keysOf('x'.repeat(700), 1), enter(1), ...keysOf('ZZ-TEST-1', 5), enter(5)];
    expect(played(presses).scans.at(-1)).toBe('ZZ-TEST-1');
    expect(played(presses).scans.every((scan) => scan.length <= 500)).toBe(true);
  });
});

describe('the separator, in all the ways in which scanners send it', () => {
  const first = keysOf(']d20109506000134352' + '10ABC', 5);
  const last = [...keysOf('21S1', 5), enter(5)];
  const whole = `]d20109506000134352${'10ABC'}${separator}21S1`;

  test.each([
    ['Ctrl and ]', [{ key: ']', code: 'BracketRight', ctrl: true, afterMs: 5 }]],
    [
      'Ctrl and the key of ] on a German keyboard',
      [{ key: '+', code: 'BracketRight', ctrl: true, afterMs: 5 }],
    ],
    ['Alt and 029', alt('029', 5)],
    ['Alt and 0029', alt('0029', 5)],
    ['the sign itself', [{ key: separator, afterMs: 5 }]],
  ] satisfies readonly (readonly [string, readonly Press[]])[])('%s', (_, sent) => {
    expect(played([...first, ...sent, ...last]).scans).toEqual([whole]);
  });

  test('a key of its own, where it was set', () => {
    const f8 = { key: 'F8', afterMs: 5 };
    expect(played([...first, f8, ...last], { separatorKey: 'F8' }).scans).toEqual([whole]);
    expect(played([...first, f8, ...last]).scans).toEqual([whole.replace(separator, '')]);
  });

  test('a text of its own, where it was set, and a stroke in a lot is never taken for it', () => {
    const sent = [...first, ...keysOf('{GS}', 5), ...last];
    expect(played(sent, { separatorText: '{GS}' }).scans).toEqual([whole]);
    const stroke = [...first, ...keysOf('/', 5), ...last];
    expect(played(stroke).scans).toEqual([whole.replace(separator, '/')]);
  });

  test('another sign by Alt and a number is dropped and shown to nobody', () => {
    const { scans, swallowed } = played([...first, ...alt('065', 5), ...last]);
    expect(scans).toEqual([whole.replace(separator, '')]);
    expect(swallowed).toBe(5);
  });

  test('a third level of a key is a sign like others', () => {
    const bracket = { key: ']', code: 'Digit9', ctrl: true, alt: true, afterMs: 5 };
    const sent = [bracket, ...keysOf('d20109506000134352', 5), enter(5)];
    expect(played(sent).scans).toEqual([']d20109506000134352']);
  });

  test('text that comes in one piece, without keys, is a scan; a short piece is somebody typing', () => {
    const { text } = makeWedge();
    expect(text(`${whole}\n`)).toEqual({ swallow: true, scan: whole });
    expect(text('Ash').swallow).toBe(false);
    expect(text('ZZ-TEST-0020').swallow).toBe(false); // a word that a keyboard suggests
    expect(text(`${'x'.repeat(501)}\n`).swallow).toBe(false);
  });
});

describe('the set-up label proves the scanner', () => {
  test('it is proven when every sign comes, with the kind of code in front', () => {
    for (const symbol of [']d2', ']C1', ']Q3'])
      expect(proveScanner(symbol + proofElements)).toEqual({ ok: true });
  });

  test.each([
    ['the identifier is off', proofElements, /AIM identifier/],
    ['the separator is lost', `]d2${proofElements.replace(separator, '')}`, /drops the separator/],
    [
      'the separator is a text',
      `]d2${proofElements.replace(separator, '{GS}')}`,
      /sends \{GS\} for/,
    ],
    ['Caps Lock is on', `]d2${proofElements.replace('qw', 'QW')}`, /Caps Lock/],
    ['Y and Z are swapped', `]d2${proofElements.replace('YZ', 'ZY')}`, /another keyboard/],
    ['the dash is a ß', `]d2${proofElements.replace('-', 'ß')}`, /another keyboard/],
    ['half of it came', ']d20109506000134352', /not all of it/],
  ])('when %s, it says so', (_, sent, why) => {
    const proof = proveScanner(sent);
    expect(proof.ok ? '' : proof.sentence).toMatch(why);
  });
});
