import { expect, test } from 'vitest';
import { bornShown, veiled } from '#screens/veiled.ts';
import { given } from '../support/given.ts';
import { inGerman } from '../support/inGerman.ts';

test('a hidden patient stays hidden, birth date and all, when another language is spoken', () => {
  const { current } = given();
  const english = veiled(current);
  expect(english.patient).toMatchObject({ name: 'Patient hidden', number: 'locked' });
  expect(veiled(current)).toBe(english);
  expect([bornShown(current.patient), bornShown(english.patient)]).toEqual([
    current.patient.born,
    '–',
  ]);

  inGerman({ 'Patient hidden': 'Patient verborgen' }, () => {
    expect(veiled(current).patient.name).toBe('Patient verborgen');
    expect([bornShown(english.patient), bornShown(veiled(current).patient)]).toEqual(['–', '–']);
  });
});
