import { expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Sheet } from '../../src/engine/sheet.ts';
import { parseSheet, sheetFromData } from '../../src/sheets/parseSheet.ts';
import { nearest } from '../../src/sheets/spelling.ts';
import { damaged, said, shared, small } from './small.ts';

/** What stands where a sheet says nothing, and what an author is warned of. */
function sheetOf(text: string = small): Sheet {
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  expect(said(parsed)).toEqual([]);
  if (!parsed.ok) throw new Error('refused');
  return parsed.sheet;
}

const line = (id: string) => sheetOf().lines.find((one) => one.id === id);

test('a line may not stay, is counted, and is opened when wanted, unless it says otherwise', () => {
  expect(line('tube')).toEqual({
    id: 'tube',
    name: 'Tube',
    section: 'things',
    class: 'small',
    opening: 0,
    tracked: true,
    counted: true,
    stay: { may: 'no' },
    film: 'varies',
    cuttable: true,
    brings: [],
    turns: [],
    source: 'common practice, no source',
  });
});

test('a swab is tracked, shows on a film and is never cut', () => {
  expect(line('swab')).toMatchObject({ tracked: true, film: 'yes', cuttable: false });
});

test('a turn happens anywhere and gives one piece, unless it says otherwise', () => {
  expect(line('reel')?.turns[0]).toEqual({
    id: 'cut',
    name: 'Reel cut',
    at: 'any',
    asks: 'lengths',
    gives: [{ line: 'tube', n: 'asked', place: 'here' }],
  });
  expect(line('loop')?.turns[0]?.gives[0]?.n).toBe(1);
});

test('a question is confirmed with yes and stopped by no, unless it says otherwise', () => {
  const step = sheetOf().checkpoints[0]?.steps[0];
  expect(step).toMatchObject({
    answering: { kind: 'confirm' },
    usual: 'yes',
    stopOn: ['no'],
    mayNotApply: false,
  });
});

test('answers to choose from can be a list of words', () => {
  expect(sheetOf().closures[0]?.look[0]?.answering).toEqual({
    kind: 'choice',
    options: [
      { id: 'dry', name: 'Dry' },
      { id: 'treated', name: 'Treated' },
      { id: 'bleeding', name: 'Bleeding' },
    ],
  });
});

test('every sheet has all counts but that of a cavity inside a cavity', () => {
  expect(sheetOf().moments.map(({ id, classes }) => [id, classes.length])).toEqual([
    ['first', 4],
    ['added', 4],
    ['closing', 4],
    ['final', 4],
    ['relief', 4],
    ['extra', 4],
  ]);
  const text = small.replace(
    'closures:\n',
    'moments: { cavity: [swab, sharp], closing: all }\nclosures:\n',
  );
  expect(sheetOf(text).moments.find(({ id }) => id === 'cavity')?.classes).toEqual([
    'swab',
    'sharp',
  ]);
});

test('the three checkpoints know their name, act, leader and people', () => {
  expect(sheetOf().checkpoints.map(({ name, before }) => [name, before])).toEqual([
    ['Sign in', 'anaesthesia'],
    ['Time out', 'incision'],
    ['Sign out', 'leaving'],
  ]);
  expect(sheetOf().checkpoints[0]).toMatchObject({
    leader: 'circulator',
    present: ['circulator', 'anaesthetist'],
  });
});

test('two closures share a name where their variants exclude each other', () => {
  const text = small
    .replace('    count: closing\n', '    count: closing\n    when: { variant: keyhole }\n')
    .replace(
      '  skin:\n',
      '  abdomen-open: { id: abdomen, name: Wound, sites: [abdomen], count: closing, when: { variant: open } }\n  skin:\n',
    );
  expect(sheetOf(text).closures.map(({ id }) => id)).toEqual(['abdomen', 'abdomen', 'skin']);
  const both = text.replace('variant: open } }', 'variant: keyhole } }');
  expect(said(parseSheet(both, { file: 'small.yaml', shared }))).toHaveLength(1);
});

test('a choice of variants with no closure is told', () => {
  const text = small
    .replace('    count: closing\n', '    count: closing\n    when: { variant: open }\n')
    .replace('    count: final\n', '    count: final\n    when: { variant: open }\n');
  expect(said(parseSheet(text, { file: 'small.yaml', shared }))).toEqual([
    'In small.yaml, line 71, column 1, closures is without any closure with the variants keyhole, but should be with at least one.',
  ]);
});

test('a sheet as data is the same sheet as its text', () => {
  const parsed = sheetFromData(parse(small), { shared });
  expect(parsed.ok && parsed.sheet).toEqual(sheetOf());
});

test('a mistake in data names the place that the caller gave', () => {
  const data: unknown = parse(small.replace('opening: 10', 'opening: ten'));
  const message =
    'sections.swabs.lines.swab.opening is "ten", but should be a whole number from 0 to 999.';
  expect(said(sheetFromData(data, { shared }))).toEqual([`In the sheet, ${message}`]);
  const at = { file: 'a.yaml', line: 3, column: 8 };
  expect(said(sheetFromData(data, { shared, at }))).toEqual([
    `In a.yaml, line 3, column 8, ${message}`,
  ]);
});

test('more than nine steps, or more than a minute, is a warning', () => {
  const steps = Array.from(
    { length: 3 },
    (_, index) =>
      `      more-${index}: { who: surgeon, ask: ${'word '.repeat(30)}, short: More, source: none }\n`,
  ).join('');
  const parsed = parseSheet(small.replace('      stones:\n', `${steps}      stones:\n`), {
    file: 'small.yaml',
    shared,
  });
  expect(parsed.ok && parsed.warnings.map(({ message }) => message)).toEqual([
    'In small.yaml, line 46, column 3, checkpoints.time-out can ask 11 steps at once, and more than 9 are skipped.',
    'In small.yaml, line 46, column 3, checkpoints.time-out takes about 70 seconds to read aloud, and should take about a minute.',
  ]);
});

test('steps that exclude each other are not added up', () => {
  const steps = Array.from(
    { length: 6 },
    (_, index) =>
      `      more-${index}: { who: surgeon, ask: A?, short: A, source: none, when: { variant: ${index % 2 === 0 ? 'open' : 'keyhole'} } }\n`,
  ).join('');
  const text = small.replace('      stones:\n', `${steps}      stones:\n`);
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  expect(parsed.ok && parsed.warnings.map(({ message }) => message)).toEqual([
    'In small.yaml, line 46, column 3, checkpoints.time-out can ask 11 steps at once, and more than 9 are skipped.',
  ]);
});

test('what no film can show is marked', () => {
  const parsed = damaged('tube: { name: Tube }', 'tube: { name: Tube, film: no }');
  expect(parsed.ok && parsed.warnings.map(({ message }) => message)).toEqual([
    'In small.yaml, line 33, column 7, sections.things.lines.tube cannot be shown by an X-ray, so that no film settles its loss (all such: Tube).',
  ]);
});

test.each([
  ['cavty', 'cavity'],
  ['ahving', undefined],
  ['wuond', 'wound'],
  ['', undefined],
  ['x'.repeat(100_000), undefined],
])('of cavity and wound, "%s" is taken for %s', (word, meant) => {
  expect(nearest(word, ['cavity', 'wound'])).toBe(meant);
});

test('a sheet with more choices than can be gone through is told, one with many that do not matter is not', () => {
  const group = (name: string, length: number) =>
    `  ${name}:\n${Array.from({ length }, (_, index) => `    ${name}-${index}: { name: X }\n`).join('')}`;
  const groups = ['a', 'b', 'c', 'd'].map((name) => group(name, 12)).join('');
  const many = small.replace('sections:\n', `${groups}sections:\n`);
  expect(sheetOf(many).variants).toHaveLength(50);
  const closures = ['a', 'b', 'c', 'd'].flatMap((name) =>
    Array.from(
      { length: 4 },
      (_, index) =>
        `  ${name}-${index}: { name: X, sites: [abdomen], count: closing, when: { variant: ${name}-${index} } }\n`,
    ),
  );
  const text = many.replace('  skin:\n', `${closures.slice(0, 12).join('')}  skin:\n`);
  expect(said(parseSheet(text, { file: 'small.yaml', shared }))).toEqual([]);
  const six = ['a', 'b', 'c', 'd'].map(
    (name) =>
      `  x${name}: { name: X, sites: [abdomen], count: closing, when: { variant: [${Array.from({ length: 11 }, (_, index) => `${name}-${index}`).join(', ')}] } }\n`,
  );
  expect(
    said(
      parseSheet(many.replace('  skin:\n', `${six.join('')}  skin:\n`), {
        file: 'small.yaml',
        shared,
      }),
    ),
  ).toEqual([
    'In small.yaml, line 7, column 1, variants is chosen in more than 2000 ways that matter to closures, but should be fewer.',
  ]);
});

test('two specimens may share a letter where no case can have both', () => {
  const pair = (gland: string, node: string) =>
    damaged(
      '    media: [formalin]\n',
      `    media: [formalin]\n    when: { variant: ${gland} }\n  node: { letter: A, name: Node, site: abdomen, test: histology, media: formalin, when: { variant: ${node} } }\n`,
    );
  expect(said(pair('keyhole', 'open'))).toEqual([]);
  for (const node of ['keyhole', '[keyhole, open]'])
    expect(said(pair('keyhole', node))).toEqual([
      expect.stringContaining(
        'specimens.node.letter is said a second time, after the specimen gland',
      ),
    ]);
});
