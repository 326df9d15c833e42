import { afterEach, expect, test } from 'vitest';
import { bornShown, veiled } from '#screens/veiled.ts';
import { readPhrasesFrom } from '#words/say.ts';
import { given } from '../support/given.ts';

afterEach(() => readPhrasesFrom(() => undefined));

test('a hidden patient stays hidden, birth date and all, when another language is spoken', () => {
  const { current } = given();
  const english = veiled(current);
  expect(english.patient).toMatchObject({ name: 'Patient hidden', number: 'locked' });
  expect(veiled(current)).toBe(english);
  expect([bornShown(current), bornShown(english)]).toEqual([current.patient.born, '–']);

  const phrases = new Map([['Patient hidden', 'Patient verborgen']]);
  readPhrasesFrom(() => ({ language: 'de', phrases, keepsCapitals: true }));
  expect(veiled(current).patient.name).toBe('Patient verborgen');
  expect([bornShown(english), bornShown(veiled(current))]).toEqual(['–', '–']);
});
