import { expect, test } from 'vitest';
import { doneCards } from '#screens/holdCards.ts';
import { given } from '../support/given.ts';

test('of what was done in one second the count stands last, in every browser', () => {
  const { current } = given();
  const at = '2026-01-05T09:15:00+00:00';
  const [checkpoint] = current.sheet.checkpoints;
  const signIn = { begun: true, leader: '', present: [], answers: {}, beganAt: at, finishedAt: at };
  const first = { at, lines: 4, entry: 1, by: [], waived: false, differing: [] };
  const done = doneCards({
    ...current,
    checkpoints: {
      [checkpoint?.id ?? '']: { ...signIn, computed: {}, fast: false, reopened: [] },
    },
    counts: { ...current.counts, done: { first } },
  });
  expect(done.map(({ title }) => title)).toEqual(['First count agreed, 4 lines, 09:15']);
});
