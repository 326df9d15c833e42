import { either, quoted } from './issues.ts';
import { type Reader, tell, wrong } from './reader.ts';
import { nearest } from './spelling.ts';
import { inWords } from './tree.ts';

/** A text of one or more letters. Units: letters. */
export function text(lettersMax: number): Reader<string> {
  const expected = `a text of 1 to ${lettersMax} letters`;
  return {
    blank: '',
    expected,
    schema: { type: 'string', minLength: 1, maxLength: lettersMax },
    read(tree, field, issues) {
      if (tree.kind !== 'scalar' || typeof tree.value !== 'string' || tree.value.trim() === '') {
        const isBare = tree.kind === 'scalar' && ['number', 'boolean'].includes(typeof tree.value);
        wrong(tree, field, issues, isBare ? `${expected}, in quotes` : expected);
        return '';
      }
      if (tree.value.length > lettersMax)
        tell(issues, 'too-long', tree.at, field, {
          found: `${tree.value.length} letters long`,
          expected,
        });
      const unseen = unseenIn(tree.value);
      if (unseen !== undefined)
        tell(issues, 'wrong-kind', tree.at, field, {
          found: `a text with a letter that nobody sees (${unseen})`,
          expected: 'a text of letters that can be seen',
        });
      return tree.value.trim();
    },
  };
}

/** A letter that is not seen, by its number: two names that look alike could differ by it, or run backwards. */
function unseenIn(text: string): string | undefined {
  const hit = /[\p{Cc}\p{Cf}]/u.exec(text.replaceAll('\n', ' '))?.[0].codePointAt(0);
  return hit === undefined ? undefined : `U+${hit.toString(16).toUpperCase().padStart(4, '0')}`;
}

/** A text of a certain form. */
export function form(pattern: RegExp, expected: string): Reader<string> {
  return {
    blank: '',
    expected,
    schema: { type: 'string', pattern: pattern.source },
    read(tree, field, issues) {
      if (tree.kind === 'scalar' && typeof tree.value === 'string' && pattern.test(tree.value))
        return tree.value;
      wrong(tree, field, issues, expected);
      return '';
    },
  };
}

const idPattern = /^[a-z][a-z0-9-]{0,47}$/;
/** A short name, as it ends a message. */
export const idExpected =
  'a short name of small letters, digits and hyphens that begins with a letter';

/** Words that a plain object answers to by itself. Written out, since an id becomes a key. */
const reserved = ['constructor', 'prototype', 'hasownproperty', 'valueof', 'tostring'];

/** A short name, as lines, sites and steps have it. */
export const id: Reader<string> = {
  blank: '',
  expected: idExpected,
  schema: { type: 'string', pattern: idPattern.source },
  read(tree, field, issues) {
    if (tree.kind === 'scalar' && typeof tree.value === 'string' && isId(tree.value))
      return tree.value;
    tell(issues, 'not-an-id', tree.at, field, { found: inWords(tree), expected: idExpected });
    return '';
  },
};

/** Whether it is a short name. */
export const isId = (word: string): boolean => idPattern.test(word) && !reserved.includes(word);

/** A number. Units: whatever the field's name says. */
export function number(from: number, to: number, isWhole: boolean, orElse = ''): Reader<number> {
  const expected = `a ${isWhole ? 'whole ' : ''}number from ${from} to ${to}${orElse}`;
  return {
    blank: from,
    expected,
    schema: { type: isWhole ? 'integer' : 'number', minimum: from, maximum: to },
    read(tree, field, issues) {
      const value = tree.kind === 'scalar' ? tree.value : undefined;
      if (typeof value !== 'number') {
        wrong(tree, field, issues, expected);
        return from;
      }
      const fits = value >= from && value <= to && (!isWhole || Number.isInteger(value));
      if (!fits) tell(issues, 'out-of-range', tree.at, field, { found: String(value), expected });
      return fits ? value : from;
    },
  };
}

/** yes or no. `orElse` ends the message where something else is possible too. */
export function yesOr(orElse: string): Reader<boolean> {
  const expected = `yes or no${orElse}`;
  return {
    blank: false,
    expected,
    schema: { enum: ['yes', 'no', true, false] },
    read(tree, field, issues) {
      const value = tree.kind === 'scalar' ? tree.value : undefined;
      if (value === true || value === 'yes') return true;
      if (value !== false && value !== 'no') wrong(tree, field, issues, expected);
      return false;
    },
  };
}

/** yes or no. */
export const yesNo = yesOr('');

/** One of a few words. */
export function oneOf<const W extends readonly [string, ...string[]]>(
  words: W,
  orElse = '',
): Reader<W[number]> {
  const known = either(words.map((word) => (word.includes(' ') ? quoted(word) : word)));
  const expected = `${known}${orElse}`;
  const first: W[number] = words[0];
  return {
    blank: first,
    expected,
    schema: { enum: words },
    read(tree, field, issues) {
      const value = tree.kind === 'scalar' ? tree.value : undefined;
      const said = words.find((word) => word === value);
      if (said !== undefined) return said;
      const meant = typeof value === 'string' ? nearest(value, words) : undefined;
      tell(issues, 'unknown-word', tree.at, field, { found: inWords(tree), expected, meant });
      return first;
    },
  };
}
