import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { type ParsedSheet, parseSheet, sheetFromData } from '../../src/sheets/parseSheet.ts';
import { spentMs } from '../support/cpu.ts';
import { said, shared, small } from './small.ts';

/** Damage of any kind is told or is harmless: nothing crashes, hangs, or is taken for a good sheet in silence. */
const real = readFileSync('checklists/laparoscopic-appendicectomy.yaml', 'utf8');
const runs = { numRuns: 150, seed: 20260105 } as const;
// Hundreds of sheets are read in a test; on a busy machine that takes longer than a test usually may.
vi.setConfig({ testTimeout: 60_000 });

/** The real sheet takes longer to read. */
const fewer = { ...runs, numRuns: 60 };

function read(text: string): ParsedSheet {
  const start = spentMs();
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  expect(spentMs() - start).toBeLessThan(1000);
  if (!parsed.ok) {
    expect(parsed.issues.length).toBeGreaterThan(0);
    for (const { message, field, line, column } of parsed.issues) {
      expect(message).toMatch(/^In [\w/.-]+\.yaml, line \d+, column \d+, .+\.$/s);
      expect(field).not.toBe('');
      expect(line).toBeGreaterThan(0);
      expect(column).toBeGreaterThan(0);
    }
  }
  return parsed;
}

const place = (text: string) => fc.nat({ max: text.length - 1 });

test('any letters put anywhere are told or change nothing that matters', () => {
  const letters = fc.oneof(
    fc.string({ maxLength: 8 }),
    fc.constantFrom(
      '\t',
      ':',
      '- ',
      '[',
      '}',
      '&a ',
      '*a',
      '"',
      "'",
      '|',
      '>',
      '#',
      '\0',
      '\n\n',
      '%',
      '!!',
    ),
  );
  fc.assert(
    fc.property(place(real), letters, (at, put) => {
      read(real.slice(0, at) + put + real.slice(at));
    }),
    fewer,
  );
});

test('any stretch taken out is told or changes nothing that matters', () => {
  fc.assert(
    fc.property(place(real), fc.nat({ max: 300 }), (at, length) => {
      read(real.slice(0, at) + real.slice(at + length));
    }),
    fewer,
  );
});

test('any line moved in or out is told or changes nothing that matters', () => {
  const lines = real.split('\n');
  fc.assert(
    fc.property(fc.nat({ max: lines.length - 1 }), fc.integer({ min: -6, max: 6 }), (at, by) => {
      const moved = lines.map((line, index) => {
        if (index !== at) return line;
        return by < 0 ? line.replace(new RegExp(`^ {0,${-by}}`), '') : ' '.repeat(by) + line;
      });
      read(moved.join('\n'));
    }),
    fewer,
  );
});

test('any text at all is told as no sheet', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 400, unit: 'binary' }), (text) => {
      expect(read(text).ok).toBe(false);
    }),
    runs,
  );
});

test('any data at all is told as no sheet', () => {
  fc.assert(
    fc.property(fc.anything({ maxDepth: 5, withBigInt: true, withDate: true }), (data) => {
      expect(sheetFromData(data, { shared }).ok).toBe(false);
    }),
    runs,
  );
});

/** Words of the small sheet without which it is another sheet, or none. */
const keys = [...small.matchAll(/^( *)([a-z][a-z-]*):/gm)].map((match) => match[2] ?? '');
const known = new Set(keys);

test('a misspelt word of the format is never passed over in silence', () => {
  const words = [
    ...['title', 'sections', 'lines', 'closures', 'sites', 'checkpoints', 'steps', 'specimens'],
    ...['opening', 'pack', 'turns', 'gives', 'stay', 'starts-in', 'counted', 'in-use', 'count'],
    ...['look', 'when', 'stop-on', 'usual', 'media', 'window-minutes', 'approved-by', 'reason'],
  ];
  expect(words.filter((word) => !known.has(word) && !small.includes(`${word}:`))).toEqual([]);
  fc.assert(
    fc.property(
      fc.constantFrom(...words),
      fc.nat(),
      fc.constantFrom('x', 'e', 's'),
      (word, at, letter) => {
        const cut = at % (word.length + 1);
        const wrong = word.slice(0, cut) + letter + word.slice(cut);
        const text = small.replace(new RegExp(`\\b${word}:`), `${wrong}:`);
        const parsed = read(text);
        expect(parsed.ok).toBe(false);
        expect(said(parsed).join('\n')).toContain(wrong);
      },
    ),
    runs,
  );
});

test('a name that points nowhere is never passed over in silence', () => {
  const names = ['ligature', 'tube', 'stone', 'port', 'abdomen', 'dry', 'treated', 'bleeding'];
  fc.assert(
    fc.property(fc.constantFrom(...names), fc.nat({ max: 5 }), (name, nth) => {
      let seen = -1;
      const text = small.replace(new RegExp(`(?<!it )\\b${name}\\b(?!:)`, 'g'), (found) => {
        seen += 1;
        return seen === nth ? `${found}x` : found;
      });
      const parsed = read(text);
      // Free words begin with a capital, or stand in "Is it dry?": only names are hit here.
      expect(parsed.ok).toBe(text === small);
    }),
    runs,
  );
});

const bomb = (levels: number): string => {
  const rows = ['a0: &a0 [x, x, x, x, x, x, x, x, x, x]'];
  for (let level = 1; level <= levels; level += 1) {
    const each = new Array(10).fill(`*a${level - 1}`).join(', ');
    rows.push(`a${level}: &a${level} [${each}]`);
  }
  return rows.join('\n');
};

test.each([
  ['a part that repeats itself a thousand million times', bomb(9)],
  ['a part that holds itself', 'sections: &a\n  swabs: *a\n'],
  ['a thousand brackets', `title: ${'['.repeat(1000)}`],
  ['ninety thousand brackets', `title: ${'['.repeat(90_000)}`],
  ['thirty thousand levels of keys', `${'a: '.repeat(30_000)}`],
  ['a megabyte of one word', `title: ${'x'.repeat(1_000_000)}`],
  [
    'four thousand lines of one name',
    `sections:\n  swabs:\n    lines:\n${'      x: { name: X }\n'.repeat(4000)}`,
  ],
  ['an alias to nothing', 'title: *nothing\n'],
  ['a tag of a program', 'title: !!js/function "function () {}"\n'],
  ['two documents', `${small}---\n${small}`],
  ['nothing', ''],
  ['a null', 'null'],
  ['a list', '- a\n- b\n'],
  ['a key that is a list', `${small}[a, b]: c\n`],
])('%s is told within a second', (_, text) => {
  expect(read(text).ok).toBe(false);
});

test.each(['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty'])(
  'a part named %s is told, wherever it stands, and reaches nothing',
  (name) => {
    const places: readonly (readonly [string, string])[] = [
      ['sites:\n', `sites:\n  ${name}: { name: X, kind: wound }\n`],
      ['sections:\n', `sections:\n  ${name}: { name: X, lines: {} }\n`],
      ['    lines:\n', `    lines:\n      ${name}: { name: X }\n`],
      ['checkpoints:\n', `checkpoints:\n  ${name}: { steps: {} }\n`],
      ['specimens:\n', `specimens:\n  ${name}: { letter: B }\n`],
      ['opens: { swab: 5 }', `opens: { ${name}: 5 }`],
      ['brings: { tube: 1 }', `brings: { ${name}: 1 }`],
      ['sources:\n', `${name}: { polluted: yes }\nsources:\n`],
    ];
    for (const [from, to] of places) {
      expect(read(small.replace(from, to)).ok).toBe(false);
      const data: unknown = JSON.parse(`{"${name}": {"polluted": true}}`);
      expect(sheetFromData(data, { shared }).ok).toBe(false);
    }
    const fresh: Record<string, unknown> = {};
    expect(fresh.polluted).toBeUndefined();
  },
);
