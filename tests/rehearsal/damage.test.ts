import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Sheet } from '../../src/engine/sheet.ts';
import { checkSheet } from '../../src/rehearsal/checkSheet.ts';
import { rehearse } from '../../src/rehearsal/rehearse.ts';
import { textFromBytes } from '../../src/sheets/bytes.ts';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { shared, small } from '../sheets/small.ts';
import { spentMs } from '../support/cpu.ts';

/** Whatever a sheet says that has no mistake of words, playing it ends, in time, and throws nothing. */
const runs = { numRuns: 120, seed: 20260105 } as const;

function played(sheet: Sheet): readonly string[] {
  const start = spentMs();
  const found = rehearse(sheet).map(({ code, path }) => `${code} ${path.join('.')}`);
  expect(spentMs() - start).toBeLessThan(1000);
  return found;
}

const teaching = readFileSync('checklists/ports-and-swabs.yaml', 'utf8');
const real = readFileSync('checklists/laparoscopic-appendicectomy.yaml', 'utf8');

/** Single words of a sheet put in place of others of their kind. */
const swaps: readonly (readonly string[])[] = [
  ['swab', 'sharp', 'small', 'instrument'],
  ['yes', 'no'],
  ['cavity', 'closing', 'final'],
  ['patient', 'table', 'any'],
  ['here', 'patient', 'table', 'off', 'stays'],
  ['confirm', 'counts', 'specimens', 'first-count', 'left', 'prophylaxis', 'time', 'text'],
  ['anaesthesia', 'incision', 'leaving', 'abdomen', 'skin'],
  ['orifice', 'wound', 'cavity'],
];

function swapped(text: string, kind: number, nth: number, to: number): string {
  const words = swaps[kind % swaps.length] ?? [];
  const pattern = new RegExp(`(?<=[:[,] ?)(?:${words.join('|')})(?=[\\s,}\\]])`, 'g');
  const hits = [...text.matchAll(pattern)];
  const hit = hits[nth % Math.max(1, hits.length)];
  if (hit === undefined) return text;
  const word = words[to % words.length] ?? '';
  return text.slice(0, hit.index) + word + text.slice(hit.index + hit[0].length);
}

test.each([
  ['the small sheet', small, 'small.yaml', 1],
  ['the teaching sheet', teaching, 'ports-and-swabs.yaml', 0],
])('%s with words of one kind swapped is played to an end', (_, text, file, faultyMin) => {
  let [fit, faulty] = [0, 0];
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.nat(), fc.nat(), fc.nat()), { minLength: 1, maxLength: 4 }),
      (changes) => {
        const damaged = changes.reduce((so, [kind, nth, to]) => swapped(so, kind, nth, to), text);
        const parsed = parseSheet(damaged, { file, shared });
        if (!parsed.ok) return;
        fit += 1;
        if (played(parsed.sheet).length > 0) faulty += 1;
      },
    ),
    runs,
  );
  // The damage reaches the rehearsal, and some of it is found there.
  expect(fit).toBeGreaterThan(10);
  expect(faulty).toBeGreaterThanOrEqual(faultyMin);
});

/** A real sheet with parts of it left out or in another order: nothing that a check of words would let through. */
test('a real sheet with parts shuffled or missing is played to an end', () => {
  const parsed = parseSheet(real, { file: 'laparoscopic-appendicectomy.yaml', shared });
  if (!parsed.ok) throw new Error('the sheet has a mistake');
  const { sheet } = parsed;
  const some = <T>(items: readonly T[]) => fc.shuffledSubarray([...items], { minLength: 1 });
  fc.assert(
    fc.property(
      some(sheet.checkpoints),
      some(sheet.closures),
      fc.subarray([...sheet.specimens]),
      fc.subarray([...sheet.moments]),
      some(sheet.lines),
      (checkpoints, closures, specimens, moments, lines) => {
        const kept = { ...sheet, checkpoints, closures, specimens, moments };
        played(kept);
        // Lines that others name would be missed by the checks before.
        const bare = lines.map((line) => ({ ...line, turns: [], brings: [] }));
        const plain = sheet.variants.map((one) => ({ ...one, opens: {}, without: {} }));
        played({ ...kept, lines: bare, variants: plain });
      },
    ),
    { ...runs, numRuns: 40 },
  );
});

test('a sheet with many groups of variants is played in time', () => {
  const groups = Array.from({ length: 9 }, (_, group) => {
    const ways = Array.from({ length: 5 }, (_, way) => `    g${group}w${way}: { name: Way }`);
    return [`  g${group}:`, ...ways].join('\n');
  });
  const steps = Array.from(
    { length: 9 },
    (_, group) =>
      `      s${group}: { who: surgeon, ask: A?, short: A, when: { variant: g${group}w3 } }`,
  );
  const text = small
    .replace('variants:\n', `variants:\n${groups.join('\n')}\n`)
    .replace('      stones:\n', `${steps.join('\n')}\n      stones:\n`);
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  expect(parsed.ok ? [] : parsed.issues).toEqual([]);
  if (parsed.ok) expect(played(parsed.sheet)).toEqual([]);
});

test('any bytes at all are told, with line and column, or are text', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), fc.nat(), (bytes, at) => {
      const place = at % teaching.length;
      const whole = Buffer.concat([
        Buffer.from(teaching.slice(0, place)),
        bytes,
        Buffer.from(teaching.slice(place)),
      ]);
      const read = textFromBytes(whole, 'ports-and-swabs.yaml');
      const issues = read.ok ? [] : [read.issue];
      for (const { line, column, message } of issues) {
        expect(message).toMatch(/^In ports-and-swabs\.yaml, line \d+, column \d+, the text cannot/);
        expect([line, column].every((one) => one > 0)).toBe(true);
        const before = Buffer.from(whole).toString('utf8').split('\n')[line - 1] ?? '';
        expect(before.slice(column - 1, column)).toBe('\ufffd');
      }
      if (read.ok) checkSheet(read.text, { file: 'ports-and-swabs.yaml', shared });
    }),
    runs,
  );
});
