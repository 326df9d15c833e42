import { listed, quoted } from './issues.ts';
import { below, type Field, type Fields, type Reader, tell, type Values, wrong } from './reader.ts';
import { id, idExpected, isId } from './scalarReaders.ts';
import { nearest } from './spelling.ts';
import { entryAt, inWords, type Tree } from './tree.ts';

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
