import { afterEach, describe, expect, test } from 'vitest';
import {
  inEnglish,
  type PhraseBook,
  readPhrasesFrom,
  say,
  sayAll,
  sayInside,
  sayOf,
} from '#words/say.ts';

/** A language of our own, so that no sentence of the program can make these pass. */
const book = (keepsCapitals = true): PhraseBook => ({
  language: 'x-own',
  keepsCapitals,
  phrases: new Map([
    ['{0} of {1} seen', 'siht {1} von {0}'],
    [' and ', ' und '],
    ['Abdomen', 'Bauch'],
    ['One line does not agree. Count again.', 'Eine Zeile.'],
  ]),
});

afterEach(() => readPhrasesFrom(() => undefined));

describe('without a phrase book', () => {
  test('a sentence is said as it is written, with its values', () => {
    expect(say`${2} of ${'Swab'} seen`).toBe('2 of Swab seen');
    expect(sayOf('Abdomen')).toBe('Abdomen');
    expect(sayInside('Abdomen')).toBe('abdomen');
  });

  test('a value that looks like a place for one is not filled', () => {
    expect(say`${'{1}'} of ${'Swab'} seen`).toBe('{1} of Swab seen');
  });

  test('a sentence that goes over several lines of code is one line', () => {
    expect(say`One line does not agree.
      Count again.`).toBe('One line does not agree. Count again.');
  });
});

describe('with a phrase book', () => {
  test('values go where the other language wants them', () => {
    readPhrasesFrom(book);
    expect(say`${2} of ${'Swab'} seen`).toBe('siht Swab von 2');
    expect(say`One line does not agree.
      Count again.`).toBe('Eine Zeile.');
    expect(sayAll(['A', 'B'])).toBe('A und B');
  });

  test('what it lacks is said in English, and what a person wrote stays', () => {
    readPhrasesFrom(book);
    expect(say`${3} are missing`).toBe('3 are missing');
    expect(sayOf('behind the clock')).toBe('behind the clock');
    expect(sayOf('constructor')).toBe('constructor');
  });

  test('a name keeps its capital letter only where the language writes it so', () => {
    readPhrasesFrom(book);
    expect(sayInside('Abdomen')).toBe('Bauch');
    readPhrasesFrom(() => book(false));
    expect(sayInside('Abdomen')).toBe('bauch');
  });

  test('files for other programs are made in English, also when making one fails', () => {
    readPhrasesFrom(book);
    expect(inEnglish(() => sayOf('Abdomen'))).toBe('Abdomen');
    expect(() =>
      inEnglish(() => {
        throw new Error('no');
      }),
    ).toThrow('no');
    expect(sayOf('Abdomen')).toBe('Bauch');
  });
});
