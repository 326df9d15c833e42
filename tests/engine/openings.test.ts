import { expect, test } from 'vitest';
import type { Add } from '#engine/moves/events.ts';
import { count, type Done, given, givenOn, incised, recount } from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

const gauze = line('gauze', { class: 'swab', pack: 5, cuttable: false, film: 'no' });
const twoPacks = line('sponge', { class: 'swab', opening: 10, pack: 5, cuttable: false });
const sheet = { ...storySheet, lines: [...storySheet.lines, gauze, twoPacks] };

const add = (more: Omit<Add, 'type'>): Add => ({ type: 'add', ...more });

/** What is said beside the last of these, nothing being refused. */
function said(...done: readonly Done[]): readonly string[] {
  const last = done.at(-1);
  if (!last) return [];
  return givenOn(sheet, ...done.slice(0, -1))
    .when(last)
    .said();
}

test('[L4] several packs said as one number are asked about, each by itself is not', () => {
  expect(said(...incised, add({ line: 'swab', n: 10 }))).toEqual(['packs-in-one']);
  expect(said(...incised, add({ line: 'swab', n: 5 }))).toEqual([]);
  expect(said(...incised, add({ line: 'swab', packs: [5, 5] }))).toEqual([]);
  expect(said(...incised, add({ line: 'loop', n: 10 }))).toEqual([]); // comes in no packs
});

test('[L4] so are those of the first count', () => {
  expect(said(count('first'))).toEqual(['packs-in-one']);
  expect(said(count('first', { sponge: { packs: [5, 5] } }))).toEqual([]);
  expect(said(count('first', { sponge: { packs: [5, 4] } }))).toEqual(['pack-set-aside']);
  expect(said(count('first', { sponge: { field: 9 } }))).toEqual([
    'pack-set-aside',
    'packs-in-one',
  ]);
});

test('[D6] a swab that no film shows is said until the final count is agreed', () => {
  const opened = add({ line: 'gauze', packs: [5] });
  expect(said(...incised, opened)).toEqual(['no-strand']);
  expect(said(...incised, count('closing'), opened)).toEqual(['no-strand']);
  expect(said(...incised, count('final'), opened)).toEqual([]);
  expect(said(...incised, add({ line: 'seal', n: 1 }))).toEqual([]); // no swab
});

test('[D5] nothing is added to a line that is over, but while it waits for its recount', () => {
  const over = { needle: { field: 3 } };
  const one = add({ line: 'needle', n: 1 });
  given(...incised, count('closing', over))
    .when(one)
    .accepted();
  given(...incised, count('closing', over), recount(over))
    .when(one)
    .refused('discrepancy-over');
  const short = { needle: { field: 1 } };
  given(...incised, count('closing', short), recount(short))
    .when(one)
    .accepted();
});

test('[D5] no more is amended than the excess that is left', () => {
  const over = { needle: { field: 4 } };
  const amend = (n: number) =>
    ({
      type: 'amend',
      line: 'needle',
      n,
      reason: 'two packets unsaid',
      by: ['scrub', 'circulator', 'surgeon'],
    }) as const;
  const found = [...incised, count('closing', over), recount(over)];
  given(...found)
    .when(amend(3))
    .refused('not-enough');
  given(...found, amend(1))
    .when(amend(2))
    .refused('not-enough');
  given(...found, amend(1), amend(1))
    .when(amend(1))
    .refused('not-enough');
  given(...found, amend(1), recount(over)) // counted anew: one is left
    .when(amend(2))
    .refused('not-enough');
  given(...found, amend(1), recount(over))
    .when(amend(1))
    .accepted();
});
