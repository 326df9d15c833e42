import { describe, expect, test } from 'vitest';
import { canonicalJson, isCanonical } from '#journal/canonical.ts';

function textOf(value: unknown): string {
  const canonical = canonicalJson(value);
  if (!canonical.ok) throw new Error(`Refused at ${canonical.failure.detail}`);
  return canonical.text;
}

function double(bits: string): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${bits}`));
  return view.getFloat64(0);
}

// RFC 8785, section 3.2.2, the sample object as it stands there.
const sample = String.raw`{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}`;

describe('Canonical JSON gives what RFC 8785 publishes', () => {
  test('the sample of section 3.2.2 becomes the text of section 3.2.3', () => {
    expect(textOf(JSON.parse(sample))).toBe(
      [
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],',
        String.raw`"string":"€$\u000f\nA'B\"\\\\\"/"}`,
      ].join(''),
    );
  });

  test('the sample becomes, in UTF-8, the bytes of section 3.2.4', () => {
    const published = `7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72
      75 65 2c 66 61 6c 73 65 5d 2c 22 6e 75 6d 62 65 72 73 22 3a
      5b 33 33 33 33 33 33 33 33 33 2e 33 33 33 33 33 33 33 2c 31
      65 2b 33 30 2c 34 2e 35 2c 30 2e 30 30 32 2c 31 65 2d 32 37
      5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30
      30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d`;
    expect(Buffer.from(textOf(JSON.parse(sample))).toString('hex')).toBe(
      published.replaceAll(/\s/g, ''),
    );
  });

  test('keys stand in the order of section 3.2.3, by UTF-16 code units', () => {
    const named = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    const order = [...textOf(named).matchAll(/:"([^"]+)"/g)].map(([, name]) => name);
    expect(order).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  test.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ])('the double %s of appendix B is written %s', (bits, text) => {
    expect(textOf(double(bits))).toBe(text);
  });

  test('the two numbers that appendix B marks as errors are refused', () => {
    for (const bits of ['7fffffffffffffff', '7ff0000000000000']) {
      expect(canonicalJson(double(bits)).ok).toBe(false);
    }
  });
});

// The files of the testdata that the author of RFC 8785 publishes beside it (cyberphone/json-canonicalization,
// folders testdata/input and testdata/output), by their names (`weird` as of
// commit 77917fbd). `unicode` and `values` stand in other tests here.
describe('Canonical JSON gives what the testdata beside RFC 8785 holds', () => {
  test.each<[string, string, string]>([
    ['arrays', '[ 56, { "d": true, "10": null, "1": [ ] } ]', '[56,{"1":[],"10":null,"d":true}]'],
    [
      'french',
      `{ "peach": "This sorting order", "péché": "is wrong according to French",
         "pêche": "but canonicalization MUST", "sin":   "ingnore locale" }`,
      [
        '{"peach":"This sorting order","péché":"is wrong according to French",',
        '"pêche":"but canonicalization MUST","sin":"ingnore locale"}',
      ].join(''),
    ],
    [
      'structures',
      String.raw`{ "1": {"f": {"f": "hi","F": 5} ,"\n": 56.0}, "10": { }, "": "empty", "a": { },
         "111": [ { } ], "A": { } }`,
      String.raw`{"":"empty","1":{"\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{}],"A":{},"a":{}}`,
    ],
    [
      'weird',
      String.raw`{ "\u20ac": "Euro Sign", "1": "One", "\u0080": "Control\u007f", "\ud83d\ude02": "Smiley",
         "\u00f6": "Latin Small Letter O With Diaeresis",
         "\ufb33": "Hebrew Letter Dalet With Dagesh", "</script>": "Browser Challenge" }`,
      [
        '{"1":"One","</script>":"Browser Challenge","\u0080":"Control\u007f",',
        '"ö":"Latin Small Letter O With Diaeresis","€":"Euro Sign","😂":"Smiley",',
        '"\ufb33":"Hebrew Letter Dalet With Dagesh"}',
      ].join(''),
    ],
  ])('%s', (_, input, output) => {
    expect(textOf(JSON.parse(input))).toBe(output);
  });
});

describe('The canonical text of a value is told from every other', () => {
  const is = (text: string) => isCanonical(text, JSON.parse(text));
  test.each([
    '{"a":[1,{"b":null,"c":"x"}],"d":{"10":1,"9":2}}',
    '[56,{"d":true,"10":null,"1":[]}]',
    '"\\\\ud800"',
    '{"a":1e+21,"b":"€"}',
  ])('%s', (text) => {
    // The second is out of order in its source, as RFC 8785 has it in its examples.
    expect(is(textOf(JSON.parse(text)))).toBe(true);
  });

  test.each([
    ['a space', '{"a": 1}'],
    ['keys in another order', '{"b":1,"a":2}'],
    ['keys in another order further in', '[{"a":{"c":1,"b":2}}]'],
    ['numbers as keys in the order of numbers', '{"9":1,"10":2}'],
    ['a key twice', '{"a":1,"a":1}'],
    ['a number written otherwise', '{"a":1.0}'],
    ['a minus before nothing', '-0'],
    ['a letter written as its number', '"\\u0061"'],
    ['half a letter', '"\\ud800"'],
    ['more than a hundred levels', `${'['.repeat(101)}${']'.repeat(101)}`],
  ])('%s is found', (_, text) => {
    expect(is(text)).toBe(false);
  });
});

test('letters are not composed', () => {
  expect(textOf({ 'Unnormalized Unicode': 'A\u030a' })).toBe('{"Unnormalized Unicode":"A\u030a"}');
});

describe('What has no one text is refused, and the answer names the place', () => {
  const hole: unknown[] = [1, 2, 3];
  delete hole[1];
  test.each<[string, unknown]>([
    ['undefined', { a: undefined }],
    ['a bigint', { a: 1n }],
    ['a function', { a: () => 1 }],
    ['a symbol', { a: Symbol('a') }],
    ['a date', { a: new Date(0) }],
    ['a map', { a: new Map() }],
    ['minus infinity', { a: -Infinity }],
    ['a lone high surrogate', { a: 'x\ud800' }],
    ['a lone low surrogate', { a: '\udc00x' }],
  ])('%s', (_, value) => {
    expect(canonicalJson(value)).toMatchObject({
      ok: false,
      failure: { code: 'not-json', detail: '$.a' },
    });
  });

  test('a hole in an array', () => {
    expect(canonicalJson(hole)).toMatchObject({ failure: { detail: '$[1]' } });
  });

  test('a lone surrogate in a key, and a key that is a symbol', () => {
    expect(canonicalJson({ '\ud800': 1 }).ok).toBe(false);
    expect(canonicalJson({ [Symbol('a')]: 1 }).ok).toBe(false);
  });

  test('more than a hundred levels, a circle too; a hundred are fine', () => {
    const nest = (levels: number): unknown => (levels === 0 ? 0 : [nest(levels - 1)]);
    const circle: Record<string, unknown> = {};
    circle.self = circle;
    expect(textOf(nest(100))).toHaveLength(201);
    expect(canonicalJson(nest(101)).ok).toBe(false);
    expect(canonicalJson(circle).ok).toBe(false);
  });
});
