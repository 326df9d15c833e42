import { expect, test } from 'vitest';
import { mustComeOut } from '#engine/moves/mustComeOut.ts';
import type { Line, Stay } from '#engine/sheet.ts';
import { storySheet } from '../support/storySheet.ts';

const line = (id: string, stay: Stay): Line => {
  const known = storySheet.lines.find((one) => one.id === id);
  if (!known) throw new Error(`There is no line ${id} in the story.`);
  return { ...known, stay };
};

const no: Stay = { may: 'no' };
const yes: Stay = { may: 'yes' };
const reason = (...needs: ('reason' | 'where' | 'lot')[]): Stay => ({ may: 'reason', needs });

test.each([
  ['a swab that may not stay', 'swab', no, true],
  ['packing, a swab that may stay for a reason', 'swab', reason('reason', 'where'), true],
  ['a swab with a lot number', 'swab', reason('lot'), true],
  ['a small thing that may stay for a reason: a drain', 'seal', reason('reason'), true],
  ['one of which only the place is asked', 'seal', reason('where'), true],
  ['one with a lot number: an implant', 'seal', reason('reason', 'lot'), false],
  ['what stays by its nature: a knot', 'seal', yes, false],
  ['what may not stay and was left by decision', 'seal', no, false],
])('%s: comes out again %s', (_, id, stay, comesOut) => {
  expect(mustComeOut(line(id, stay))).toBe(comesOut);
});

test('of a line that is none, nothing is to come out', () => {
  expect(mustComeOut(undefined)).toBe(false);
});
