import {
  either,
  type Issue,
  type IssueCode,
  issueOf,
  listed,
  type Position,
  quoted,
} from './issues.ts';
import { nearest } from './spelling.ts';
import { entryAt, inWords, limits, type Tree } from './tree.ts';

/** JSON Schema, as far as editors need it to complete and check a sheet. */
export type JsonSchema = { readonly [key: string]: unknown };

/**
 * Reads one part of a sheet. A reader always answers with a value of its kind; what was wrong is in the issues,
 * and a sheet with an issue is refused whole. So everything after a mistake is checked as well.
 */
export type Reader<T> = {
  readonly read: (tree: Tree, field: string, issues: Issue[]) => T;
  /** Stands in where nothing could be read. */
  readonly blank: T;
  /** "a whole number from 1 to 999", as it ends a message. */
  readonly expected: string;
  readonly schema: JsonSchema;
};

/** A named part of a group. `help` is what an editor and the README say of it. */
export type Field<T> = {
  readonly reader: Reader<T>;
  readonly isNeeded: boolean;
  readonly help: string;
};
export type Fields = Readonly<Record<string, Field<unknown>>>;
type Values<F extends Fields> = {
  readonly [K in keyof F]: F[K] extends Field<infer T> ? T : never;
};

/** Adds a mistake, as long as there are not more than anybody reads. */
export function tell(
  issues: Issue[],
  code: IssueCode,
  at: Position,
  field: string,
  words: { readonly found: string; readonly expected: string; readonly meant?: string | undefined },
): void {
  if (issues.length < limits.issues) issues.push(issueOf({ code, at, field, ...words }));
}

/** The field inside another: "sites", then "sites.abdomen". */
export const below = (field: string, key: string | number): string =>
  field === '' ? String(key) : `${field}.${key}`;

const wrong = (tree: Tree, field: string, issues: Issue[], expected: string): void =>
  tell(issues, 'wrong-kind', tree.at, field, { found: inWords(tree), expected });

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
const idExpected = 'a short name of small letters, digits and hyphens that begins with a letter';

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

const isId = (word: string): boolean => idPattern.test(word) && !reserved.includes(word);

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

/** A list, or one thing where a list of one is meant. */
export function list<T>(item: Reader<T>, itemsMax = 200, itemsMin = 1): Reader<readonly T[]> {
  const expected = `a list, each ${item.expected}`;
  return {
    blank: [],
    expected,
    schema: {
      anyOf: [
        { type: 'array', items: item.schema, minItems: itemsMin, maxItems: itemsMax },
        item.schema,
      ],
    },
    read(tree, field, issues) {
      if (tree.kind === 'scalar' && tree.value !== null) return [item.read(tree, field, issues)];
      if (tree.kind !== 'list') {
        wrong(tree, field, issues, expected);
        return [];
      }
      const isFew = tree.items.length >= itemsMin && tree.items.length <= itemsMax;
      if (!isFew)
        tell(issues, 'out-of-range', tree.at, field, {
          found: inWords(tree),
          expected: `a list of ${itemsMin} to ${itemsMax}`,
        });
      return tree.items
        .slice(0, itemsMax)
        .map((one, index) => item.read(one, below(field, index + 1), issues));
    },
  };
}

/** Things by their id, in the order in which they are written. */
export function byId<T>(
  item: Reader<T>,
  things: string,
  itemsMax = 200,
): Reader<ReadonlyMap<string, T>> {
  const expected = `${things}, each under its short name`;
  return {
    blank: new Map(),
    expected,
    schema: {
      type: 'object',
      propertyNames: id.schema,
      additionalProperties: item.schema,
      maxProperties: itemsMax,
    },
    read(tree, field, issues) {
      const values = new Map<string, T>();
      if (tree.kind !== 'map') {
        wrong(tree, field, issues, expected);
        return values;
      }
      if (tree.entries.length > itemsMax)
        tell(issues, 'too-large', tree.at, field, {
          found: inWords(tree),
          expected: `at most ${itemsMax}`,
        });
      for (const { key, keyAt, value } of tree.entries.slice(0, itemsMax)) {
        const here = below(field, key.slice(0, 60));
        if (!isId(key))
          tell(issues, 'not-an-id', keyAt, here, {
            found: quoted(key.slice(0, 60)),
            expected: idExpected,
          });
        values.set(key, item.read(value, here, issues));
      }
      return values;
    },
  };
}

/** A part that must be there. */
export const needed = <T>(reader: Reader<T>, help: string): Field<T> => ({
  reader,
  isNeeded: true,
  help,
});

/** A part that may be left out; it is then undefined. */
export const optional = <T>(reader: Reader<T>, help: string): Field<T | undefined> => ({
  reader: { ...reader, blank: undefined },
  isNeeded: false,
  help,
});

/** A reader of a group, which can tell its fields. */
export type Group<T> = Reader<T> & { readonly fields: Fields };

/** A group of named fields. Any other word is a mistake. */
export function fields<F extends Fields>(what: string, shape: F): Group<Values<F>> {
  const names = Object.keys(shape);
  const blank = valuesOf(shape, (field) => field.reader.blank);
  return {
    blank,
    fields: shape,
    expected: what,
    schema: {
      type: 'object',
      additionalProperties: false,
      properties: Object.fromEntries(
        Object.entries(shape).map(([name, { help, reader }]) => [
          name,
          { description: help, ...reader.schema },
        ]),
      ),
      required: names.filter((name) => shape[name]?.isNeeded),
    },
    read(tree, field, issues) {
      if (tree.kind !== 'map') {
        wrong(tree, field === '' ? 'the text' : field, issues, what);
        return blank;
      }
      for (const { key, keyAt } of tree.entries)
        if (!Object.hasOwn(shape, key))
          tell(issues, 'unknown-key', keyAt, below(field, key.slice(0, 60)), {
            found: quoted(key.slice(0, 60)),
            expected: listed(names),
            meant: nearest(key, names),
          });
      return valuesOf(shape, ({ reader, isNeeded, help }, name) => {
        const entry = entryAt(tree, name);
        if (entry) return reader.read(entry.value, below(field, name), issues);
        if (isNeeded)
          tell(issues, 'missing', tree.at, below(field, name), {
            found: 'missing',
            expected: `${reader.expected} (${inPassing(help)})`,
          });
        return reader.blank;
      });
    },
  };
}

/** The first sentence of a help, as it stands in brackets. */
function inPassing(help: string): string {
  const [first = ''] = help.split('. ');
  return first.replace(/\.$/, '').replace(/^[A-Z](?![A-Z])/, (letter) => letter.toLowerCase());
}

function valuesOf<F extends Fields>(
  shape: F,
  valueUnder: (field: Field<unknown>, name: string) => unknown,
): Values<F> {
  const pairs = Object.entries(shape).map(
    ([name, field]) => [name, valueUnder(field, name)] as const,
  );
  // Each value came from the reader that stands under its name in the shape.
  return Object.fromEntries(pairs) as Values<F>;
}

/** One of several kinds, told apart by how the part is written: a word, a list or a group. */
export function eitherOf<T>(
  choose: (tree: Tree) => Reader<T>,
  all: readonly [Reader<T>, ...Reader<T>[]],
  expected: string,
): Reader<T> {
  const [first] = all;
  return {
    blank: first.blank,
    expected,
    schema: { anyOf: all.map((reader) => reader.schema) },
    read: (tree, field, issues) => choose(tree).read(tree, field, issues),
  };
}

/** A part that may also be taken from a shared file; by the time it is read, the word `shared` is replaced. */
export function orShared<T>(reader: Reader<T>): Reader<T> {
  const expected = `${reader.expected}, or shared`;
  return {
    blank: reader.blank,
    expected,
    schema: { anyOf: [{ const: 'shared' }, reader.schema] },
    read(tree, field, issues) {
      if (tree.kind === 'map') return reader.read(tree, field, issues);
      const word = tree.kind === 'scalar' ? tree.value : undefined;
      // A word `shared` that is still there was told when the shared files were asked for it.
      if (word === 'shared') return reader.blank;
      const meant = typeof word === 'string' ? nearest(word, ['shared']) : undefined;
      tell(issues, 'wrong-kind', tree.at, field, { found: inWords(tree), expected, meant });
      return reader.blank;
    },
  };
}

/** The same part read as something else. */
export function mapped<A, B>(reader: Reader<A>, to: (value: A) => B): Reader<B> {
  return {
    ...reader,
    blank: to(reader.blank),
    read: (tree, field, issues) => to(reader.read(tree, field, issues)),
  };
}
