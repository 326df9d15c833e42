import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { allergiesOf } from '#engine/checkpoints/allergiesOf.ts';
import type { Sheet } from '#engine/sheet.ts';
import { type Done, givenOpened, opening } from '../support/given.ts';
import { step, storySheet } from '../support/storySheet.ts';

/** What the patient reacts to: said at opening, asked at sign in, written when somebody knows. */

const asked = step(
  'allergy',
  {
    kind: 'choice',
    options: [
      { id: 'none-known', name: 'None known' },
      { id: 'known', name: 'Known' },
    ],
  },
  { whoItem: 5, usual: 'none-known' },
);
const colour = step(
  'colour',
  { kind: 'choice', options: [{ id: 'red', name: 'Red' }] },
  { usual: 'blue', whoItem: 6 },
);
const sheet: Sheet = {
  ...storySheet,
  checkpoints: storySheet.checkpoints.map((one) =>
    one.id === 'sign-in' ? { ...one, steps: [...one.steps, colour, asked] } : one,
  ),
};
const begin: Command = { type: 'beginCheckpoint', id: 'sign-in' };
const says = (value: string): Command => ({
  ...{ type: 'answer', checkpoint: 'sign-in', step: 'allergy' },
  value,
});
const written = (...known: readonly string[]): Command => ({ type: 'allergies', known });

type Known = readonly string[] | undefined;
const after = (allergies: Known, ...done: readonly Done[]) => {
  const patient = { ...opening.patient, ...(allergies === undefined ? {} : { allergies }) };
  return givenOpened({ ...opening, sheet, patient }, ...done);
};

test.each<readonly [string, Known, readonly Done[], ReturnType<typeof allergiesOf>]>([
  ['nobody asked', undefined, [], undefined],
  ['the form says none', [], [], []],
  ['the form says which', ['latex'], [], ['latex']],
  ['asked at sign in: none', undefined, [begin, says('none-known')], []],
  ['asked at sign in: one is known', undefined, [begin, says('known')], 'unwritten'],
  ['the form says none, and the team that one is known', [], [begin, says('known')], 'unwritten'],
  ['the form says which, and the team none', ['latex'], [begin, says('none-known')], ['latex']],
  ['written before the answer', undefined, [begin, written('iodine'), says('known')], ['iodine']],
  ['written instead', ['latex'], [written('iodine', 'latex')], ['iodine', 'latex']],
  ['written, and taken back', ['latex'], [written(), { type: 'correct', last: 1 }], ['latex']],
  [
    'another step was answered',
    undefined,
    [begin, { type: 'answer', checkpoint: 'sign-in', step: 'colour', value: 'red' }],
    undefined,
  ],
  ['left open with a reason', undefined, [begin, open()], undefined],
])('[K14] allergies, %s', (_, allergies, done, known) => {
  expect(allergiesOf(after(allergies, ...done).current)).toEqual(known);
});

function open(): Command {
  return {
    type: 'answer',
    checkpoint: 'sign-in',
    step: 'allergy',
    open: { name: 'Ensayo', reason: 'x' },
  };
}

test('[K14] an answer that is no choice says nothing of allergies', () => {
  const confirmed: Sheet = {
    ...sheet,
    checkpoints: sheet.checkpoints.map((one) => ({
      ...one,
      steps: one.steps.map((known) =>
        known.id === 'allergy' ? step('allergy', { kind: 'confirm' }, { whoItem: 5 }) : known,
      ),
    })),
  };
  const { current } = givenOpened({ ...opening, sheet: confirmed }, begin, says('yes'));
  expect(allergiesOf(current)).toBeUndefined();
});

test.each([
  ['no list', '"latex"'],
  ['an empty word', '[" "]'],
  ['a number', '[4]'],
])('[K14] allergies are refused: %s', (_, known) => {
  after(undefined)
    .when({ type: 'allergies', known: JSON.parse(known) })
    .refused('malformed', 'known');
});

test('[K14] what was written is an entry about no line', () => {
  expect(after(undefined, written('latex')).current.log).toMatchObject({
    type: 'allergiesSaid',
    subject: '',
  });
});
