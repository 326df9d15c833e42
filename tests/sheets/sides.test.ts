import { expect, test } from 'vitest';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { said, shared, small } from './small.ts';

/** A specimen whose side is that of a variant is written once, and is one for each side. */
const sided = small
  .replace(
    'variants:\n',
    'variants:\n  side:\n    right: { name: Right }\n    left: { name: Left }\n',
  )
  .replace('    letter: A\n', '    letter: A\n    side-by: { right: right, left: left }\n');

const parsedFrom = (from: string, to: string) => {
  const text = sided.replace(from, to);
  expect(text === sided).toBe(from === to);
  return parseSheet(text, { file: 'small.yaml', shared });
};

test('the same specimen is planned for each side, under its letter, with its variant', () => {
  const parsed = parsedFrom('', '');
  expect(said(parsed)).toEqual([]);
  if (!parsed.ok) return;
  expect(
    parsed.sheet.specimens.map(({ id, letter, side, when }) => [id, letter, side, when]),
  ).toEqual([
    ['gland-right', 'A', 'right', { variant: ['right'] }],
    ['gland-left', 'A', 'left', { variant: ['left'] }],
  ]);
});

test.each([
  [
    'a variant that is not there',
    '{ right: right, left: left }',
    '{ right: right, lft: left }',
    ['names the variant "lft"'],
  ],
  [
    'a side of its own',
    'side-by:',
    'side: left\n    side-by:',
    ['specimens.gland.side is said, but should be left out, or side-by'],
  ],
  [
    'a condition of its own',
    'side-by:',
    'when: { variant: keyhole }\n    side-by:',
    ['specimens.gland.when is said, but should be left out, or side-by'],
  ],
  ['two groups', 'left: left }', 'keyhole: left }', ['side-by is of the groups side and approach']],
  ['one side twice', 'left: left }', 'left: right }', ['side-by is one side twice']],
  [
    'another of that name',
    'specimens:\n',
    'specimens:\n  gland-left: { letter: B, name: Node, site: abdomen, test: histology, media: formalin }\n',
    [
      'specimens.gland-left is said a second time, after gland by its side, but should be another name',
    ],
  ],
  ['what is no side', 'left: left }', 'left: lower }', ['specimens.gland.side-by.left is "lower"']],
])('with %s it is refused', (_, from, to, says) => {
  const found = said(parsedFrom(from, to));
  expect(found).toHaveLength(says.length);
  for (const words of says) expect(found.join(' ')).toContain(words);
});
