import { expect, test } from 'vitest';
import { interval, type Row, study } from './study.ts';
import { quantile, slipsOf } from './studyChance.ts';
import { makeJudge } from './studyJudge.ts';
import { publishedSensitivity } from './studyModel.ts';

const rows = study(7, 40, 400);
const middle = (
  counting: string,
  rule: string,
  places: boolean,
  key: keyof Row['found'][number],
) => {
  const row = rows.find(
    ({ arm }) => arm.counting === counting && arm.rule === rule && arm.places === places,
  );
  return row ? interval(row, key)[1] : Number.NaN;
};

test('the judge is the engine: short holds, two recounts settle, a second mismatch opens a discrepancy', () => {
  const judge = makeJudge();
  expect(judge(10, 'nothing', [10]).stage).toBe('agrees');
  expect(judge(10, 'nothing', [9]).stage).toBe('recount');
  expect(judge(10, 'nothing', [9, 10]).stage).toBe('once');
  expect(judge(10, 'nothing', [9, 10, 10]).stage).toBe('settled');
  expect(judge(10, 'nothing', [9, 9]).stage).toBe('discrepancy');
  expect(judge(10, 'nothing', [9, 10, 9]).stage).toBe('discrepancy');
  expect(judge(10, 'in', [10]).isInsideHeld).toBe(true);
  expect(judge(10, 'in and out', [10]).isInsideHeld).toBe(false);
});

test('today, an open count with the first match believed, is as sensitive as published', () => {
  const today = middle('open', 'first match', false, 'sensitivity');
  expect(Math.abs(today - publishedSensitivity)).toBeLessThan(0.015);
});

test('the same seed gives the same study, another seed another', () => {
  expect(study(7, 3, 50)).toEqual(study(7, 3, 50));
  expect(study(8, 3, 50)).not.toEqual(study(7, 3, 50));
});

test('two matches in a row, places and the hard stop each help', () => {
  for (const counting of ['open', 'blind', 'blind, two people']) {
    const first = middle(counting, 'first match', false, 'sensitivity');
    const two = middle(counting, 'two in a row', false, 'sensitivity');
    expect(two).toBeGreaterThan(first);
    expect(middle(counting, 'two in a row', true, 'sensitivity')).toBeGreaterThan(two);
    const habits = middle(counting, 'two in a row', false, 'escapes');
    expect(middle(counting, 'two in a row', false, 'escapesHard')).toBeLessThan(habits);
  }
});

test('slips are chances: they sum to one, and without errors there are none', () => {
  const sum = slipsOf(40, 0.01, 0.002).reduce((total, one) => total + one, 0);
  expect(sum).toBeCloseTo(1, 12);
  expect(slipsOf(40, 0, 0)[3]).toBe(1);
  expect(quantile([1, 2, 3], 0.5)).toBe(2);
});
