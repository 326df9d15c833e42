import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import type { CaseEvent } from '#engine/case/events.ts';
import { converted } from '#record/converted.ts';
import { csvOf } from '#record/tables/csv.ts';
import { tableNames, tableOf } from '#record/tables/tables.ts';
import { eventsOfDrills, everyDrill, exported, recordOfDrill } from '../support/records.ts';

const css = readFileSync('src/record/record.css', 'utf8');
const schema: unknown = JSON.parse(readFileSync('src/record/record.schema.json', 'utf8'));
// The library types its schemas as any object.
const validate = new Ajv2020({ strict: true, allErrors: true }).compile(schema as object);

/** A strict reader of RFC 4180 that is not ours: every record has as many fields as the header. */
const read = (text: string): readonly Readonly<Record<string, string>>[] =>
  parse(text, { bom: true, columns: true, relax_column_count: false, record_delimiter: '\r\n' });

const drills = [
  'f01-three-loops',
  'f02-braided-ties',
  'f04-short-pack-and-relief',
  'f05-protector-left-inside',
  'f07-converted-in-a-hurry',
  'f08-broken-needle',
  'f09-packs-left-by-intent',
  'f12-labels-wrong-three-ways',
].map((name) => `${name}.yaml`);

/** A case whose patient has the name and number said. */
function named(events: readonly CaseEvent[], name: string, number: string): readonly CaseEvent[] {
  return events.map((event) =>
    event.type === 'opened' ? { ...event, patient: { ...event.patient, name, number } } : event,
  );
}

describe('comma-separated values', () => {
  test('the examples of RFC 4180 come out as they stand there', () => {
    const rows = [
      ['aaa', 'b"bb', 'ccc'],
      ['aaa', 'b\r\nbb', 'ccc'],
    ] as const;
    expect(csvOf({ columns: ['field_name', 'x,y', 'z'], rows }).slice(1)).toBe(
      'field_name,"x,y",z\r\naaa,"b""bb",ccc\r\naaa,"b\r\nbb",ccc\r\n',
    );
  });

  test.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\tx',
    '\rx',
    '\nx',
    ' =1',
    '＝1',
    '＋1',
    '－1',
    '＠x',
    '=HYPERLINK("a","b")',
  ])('a text that a spreadsheet would take for a formula is only text: %j', (text) => {
    const [row] = read(csvOf({ columns: ['a'], rows: [[text]] }));
    expect(row?.a).toBe(`'${text}`);
  });

  test('numbers, also those below zero, stay numbers, and other texts stay as they are', () => {
    const rows = [[-3, 0, true, undefined, 'Łukasz; Ελένη; Иван; 田中; علي', "it's - fine"]];
    const text = csvOf({ columns: ['a', 'b', 'c', 'd', 'e', 'f'], rows });
    expect(text.startsWith('\uFEFF')).toBe(true);
    expect(read(text)).toEqual([
      {
        a: '-3',
        b: '0',
        c: 'true',
        d: '',
        e: 'Łukasz; Ελένη; Иван; 田中; علي',
        f: "it's - fine",
      },
    ]);
  });

  test('the balances of worked case F2 stand in the table of lines', async () => {
    const record = await recordOfDrill('f02-braided-ties.yaml');
    const rows = read(converted(record, { form: 'csv', only: 'lines' }, css).text);
    const row = rows.find(({ name }) => name === 'Polymer clip');
    expect(row).toMatchObject({
      'in all': '6',
      'on table': '2',
      inside: '0',
      off: '1',
      stays: '2',
      'with specimen': '1',
      missing: '0',
    });
  });

  test.each(drills)(
    'all four tables of %s are one file that a strict reader takes',
    async (file) => {
      const record = await recordOfDrill(file);
      const rows = read(converted(record, { form: 'csv' }, css).text);
      for (const name of tableNames) {
        const alone = read(converted(record, { form: 'csv', only: name }, css).text);
        expect(alone).toHaveLength(tableOf(record, name).rows.length);
        expect(rows.filter((row) => row.table === name)).toMatchObject(alone);
      }
      const facts = record.rows.flatMap((row) => row.events);
      expect(rows.filter((row) => row.table === 'entries')).toHaveLength(facts.length);
    },
  );
});

describe('JSON', () => {
  test('everything of every drill is as the published schema says', async () => {
    let documents = 0;
    for (const file of everyDrill())
      for (const events of eventsOfDrills(file)) {
        const { record } = await exported(events);
        const document: unknown = JSON.parse(converted(record, { form: 'json' }, css).text);
        expect([file, validate(document) ? [] : validate.errors]).toEqual([file, []]);
        documents += 1;
      }
    expect(documents).toBeGreaterThan(100);
  }, 240_000);

  test.each([
    ['a fact of an unknown type', '"type": "closed"', '"type": "shut"'],
    ['a verdict of another word', '"code": "reconciled"', '"code": "correct"'],
    ['pieces below zero', '"stays": 0', '"stays": -1'],
    ['a field that nobody knows', '"practice": false', '"practice": false, "extra": 1'],
    ['a time without a zone', '+00:00"', '"'],
  ])('the schema refuses %s', async (_, right, bad) => {
    const { text } = converted(await recordOfDrill('f01-three-loops.yaml'), { form: 'json' }, css);
    expect(text).toContain(right);
    const broken: unknown = JSON.parse(text.replace(right, bad));
    expect(validate(broken)).toBe(false);
  });

  test('what was taken back is said on both sides', async () => {
    const [events = []] = eventsOfDrills('commands.yaml');
    const { record } = await exported(events);
    const document = JSON.parse(converted(record, { form: 'json' }, css).text);
    const corrections = events.filter((event) => event.type === 'corrected');
    expect(corrections.length).toBeGreaterThan(0);
    for (const { entry, corrects } of corrections)
      expect(document.entries).toContainEqual(
        expect.objectContaining({ entry: corrects, takenBackBy: entry }),
      );
  });
});

describe('a page of its own', () => {
  test('it asks for nothing: no script, no other file, no address', async () => {
    const { text } = converted(await recordOfDrill('f01-three-loops.yaml'), { form: 'html' }, css);
    expect(text).not.toMatch(/<script|<link|<img|<iframe|src=|url\(|https?:|@import/i);
    expect(text).toMatch(/^<!doctype html>\n<html lang="en-GB">/);
  });

  test('a name that is markup or a rule of style stays a name', async () => {
    const [events = []] = eventsOfDrills('f01-three-loops.yaml');
    const name = '</style><script>alert("1")</script> & Testcase';
    const { record } = await exported(named(events, name, '"; } body { display: none'));
    const { text } = converted(record, { form: 'html' }, css);
    expect(text).not.toContain('<script');
    expect(text.match(/<\/style>/g)).toHaveLength(1);
    expect(text).toContain(
      '&lt;/style&gt;&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; Testcase',
    );
    expect(text).not.toMatch(/content: "[^"\n]*[{};<>]/);
  });

  test('names in five scripts stand in it as they were written', async () => {
    const [events = []] = eventsOfDrills('f01-three-loops.yaml');
    for (const name of ['Łukasz Ødegård', 'Ελένη', 'Иван', '田中', 'علي الاختبار']) {
      const { record } = await exported(named(events, name, 'ZZ-TEST-5'));
      expect(converted(record, { form: 'html' }, css).text).toContain(`<bdi>${name}</bdi>`);
    }
  });
});

test('what a line is expected to have is in no table while it is to be counted again blind', async () => {
  const [events = []] = eventsOfDrills('seal-not-on-the-table.yaml');
  const until = events.findIndex((event) => event.type === 'recounted');
  expect(until).toBeGreaterThan(0);
  const { record } = await exported(events.slice(0, until));
  const [waiting] = Object.keys(record.current.differing);
  expect(waiting).toBe('port-12-seal');
  const rows = read(converted(record, { form: 'csv' }, css).text);
  const line = rows.find((row) => row.table === 'lines' && row.line === waiting);
  expect(line).toMatchObject({ 'in all': '', 'on table': '', off: '' });
  const counted = rows.filter((row) => row.table === 'counts' && row.line === waiting);
  expect(counted.map((row) => `${row.expected}${row.difference}`)).toEqual(['', '']);
  const { text } = converted(record, { form: 'html' }, css);
  expect(text).toMatch(/Seal 12 mm<\/th><td><span class="digits-type">\?<\/span>/);
});
