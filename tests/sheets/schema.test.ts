import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { schemaOfSheet, schemaText } from '../../src/sheets/schema.ts';
import { small } from './small.ts';

/** The schema is for editors. It is only worth something if it says what the check says. */
test('the schema in checklists is the one that the code makes', () => {
  expect(readFileSync('checklists/sheet.schema.json', 'utf8')).toBe(schemaText());
});

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const root = schemaOfSheet();
const definitions = isObject(root.definitions) ? root.definitions : {};

/** As much of a validator as the words that the schema uses; an unknown word fails the test. */
function fits(value: unknown, schema: unknown): boolean {
  if (!isObject(schema)) throw new Error('a schema that is no object');
  return Object.entries(schema).every(([word, said]) => {
    const keyword = keywords.get(word);
    if (keyword === undefined) throw new Error(`the schema uses ${word}`);
    return keyword(value, said, schema);
  });
}

type Keyword = (value: unknown, said: unknown, schema: Record<string, unknown>) => boolean;
const always: Keyword = () => true;
const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const typeOf = (value: unknown): string =>
  Array.isArray(value) ? 'array' : Number.isInteger(value) ? 'integer' : typeof value;

const keywords: ReadonlyMap<string, Keyword> = new Map<string, Keyword>([
  ...['title', 'description', 'definitions'].map((word) => [word, always] as const),
  ['$ref', (value, said) => fits(value, definitions[String(said).replace('#/definitions/', '')])],
  ['const', (value, said) => value === said],
  ['enum', (value, said) => list(said).includes(value)],
  ['anyOf', (value, said) => list(said).some((one) => fits(value, one))],
  [
    'type',
    (value, said) => typeOf(value) === said || (said === 'number' && typeof value === 'number'),
  ],
  ['pattern', (value, said) => typeof value !== 'string' || new RegExp(String(said)).test(value)],
  ['minLength', (value, said) => typeof value !== 'string' || value.length >= Number(said)],
  ['maxLength', (value, said) => typeof value !== 'string' || value.length <= Number(said)],
  ['minimum', (value, said) => typeof value !== 'number' || value >= Number(said)],
  ['maximum', (value, said) => typeof value !== 'number' || value <= Number(said)],
  ['minItems', (value, said) => !Array.isArray(value) || value.length >= Number(said)],
  ['maxItems', (value, said) => !Array.isArray(value) || value.length <= Number(said)],
  ['items', (value, said) => list(value).every((one) => fits(one, said))],
  [
    'required',
    (value, said) => list(said).every((name) => isObject(value) && String(name) in value),
  ],
  ['maxProperties', (value, said) => !isObject(value) || Object.keys(value).length <= Number(said)],
  [
    'propertyNames',
    (value, said) => !isObject(value) || Object.keys(value).every((one) => fits(one, said)),
  ],
  [
    'properties',
    (value, said) =>
      !isObject(value) ||
      !isObject(said) ||
      Object.entries(said).every(([name, one]) => !(name in value) || fits(value[name], one)),
  ],
  [
    'additionalProperties',
    (value, said, schema) => {
      if (!isObject(value)) return true;
      const known = isObject(schema.properties) ? Object.keys(schema.properties) : [];
      return Object.entries(value).every(
        ([name, one]) => known.includes(name) || (said !== false && fits(one, said)),
      );
    },
  ],
]);

test.each(readdirSync('checklists').filter((file) => file.endsWith('.yaml')))(
  '%s fits the schema',
  (file) => {
    expect(fits(parse(readFileSync(`checklists/${file}`, 'utf8')), root)).toBe(true);
  },
);

test.each([
  ['a misspelt word', 'title:', 'titel:'],
  ['a word that is missing', 'title: Small\n', ''],
  ['a quantity in words', 'opening: 10', 'opening: ten'],
  ['a quantity below none', 'opening: 10', 'opening: -1'],
  ['a quantity with a half', 'opening: 10', 'opening: 2.5'],
  ['a class that does not exist', 'class: swab', 'class: sponge'],
  ['a version in words', 'version: 2026-01', 'version: January'],
  ['a name with capitals', 'sheet: small', 'sheet: Small'],
  ['a turn that gives nothing', 'gives: [{ line: tube, n: asked, place: here }]', 'gives: []'],
  ['a shared word misspelt', 'policy: shared', 'policy: shard'],
])('the schema marks %s', (_, from, to) => {
  expect(fits(parse(small), root)).toBe(true);
  expect(small).toContain(from);
  expect(fits(parse(small.replace(from, to)), root)).toBe(false);
});
