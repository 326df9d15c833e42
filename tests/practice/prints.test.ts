import { expect, test } from 'vitest';
import { paperForm } from '#paper/form.ts';
import { wordsOf } from '#paper/tree.ts';
import { footerWords } from '#record/pageFooter.ts';
import { practised } from '../support/practised.ts';

const { current } = practised(1);
if (!current) throw new Error('The practice case was not opened.');
const practice = { ...current, practice: true };

test('every page of a practice record says at its foot that it is about nobody', () => {
  expect(footerWords(practice, 'AB12')).toMatch(/^PRACTICE, not a patient · TESTCASE, Ash/);
  expect(footerWords({ ...current, practice: false }, 'AB12')).not.toMatch(/not a patient/);
});

test('a paper form filled from a practice case says it at the head of every page', () => {
  const words = (one: typeof current) => wordsOf(paperForm({ sheet: one.sheet, current: one }));
  expect(words(practice)).toMatch(/^PRACTICE, not a patient/);
  expect(words({ ...current, practice: false })).not.toMatch(/not a patient/);
});
