import { expect, test } from 'vitest';
import { type Finding, type Source, sourcesOf } from './source.ts';

/** One row of the table, and the tests that it names: a file, and the beginning of a title in it. */
type Row = {
  readonly no: string;
  readonly cells: number;
  readonly tests: readonly { readonly path: string; readonly title: string }[];
};

const rowsIn = (text: string): readonly Row[] =>
  text
    .split('\n')
    .filter((line) => /^\| [A-Z]\d+ \|/.test(line))
    .map((line) => {
      const cells = line.split(' | ');
      const named = [...(cells[5] ?? '').matchAll(/`(tests\/[^`]+)` "([^"]+)"/g)];
      return {
        no: cells[0]?.replace('| ', '') ?? '',
        cells: cells.filter((cell) => cell.trim() !== '' && cell.trim() !== '|').length,
        tests: named.map(([, path = '', title = '']) => ({ path, title })),
      };
    });

/** Titles stand in the source as they are said; a quotation mark in one is written with a stroke before it. */
const says = ({ text }: Source, title: string): boolean =>
  text.replaceAll("\\'", "'").includes(title);

function hazardsWrong(rows: readonly Row[], sources: readonly Source[]): readonly Finding[] {
  const byPath = new Map(sources.map((source) => [source.path, source]));
  return rows.flatMap(({ no, cells, tests }, index) => [
    ...(rows.findIndex((row) => row.no === no) < index ? [`${no} is there twice.`] : []),
    ...(cells === 7 ? [] : [`${no} has ${cells} cells that say something, not 7.`]),
    ...(tests.length > 0 ? [] : [`${no} names no test.`]),
    ...tests.flatMap(({ path, title }) => {
      const source = byPath.get(path);
      if (!source) return [`${no} names ${path}, which does not exist.`];
      return says(source, title) ? [] : [`${no}: ${path} has no test "${title}".`];
    }),
  ]);
}

const table = sourcesOf(/^tests\/HAZARDS\.md$/)[0]?.text ?? '';

test('every hazard has a control, and a test that exists', () => {
  const rows = rowsIn(table);
  expect(rows.length).toBeGreaterThanOrEqual(40);
  expect(hazardsWrong(rows, sourcesOf(/^tests\/.*\.(tsx?|yaml)$/))).toEqual([]);
});

test('a row without a test, with one that does not exist, and twice the same number are found', () => {
  const line = (no: string, named: string) => `| ${no} | 5 | a | b | c | ${named} | d |`;
  const text = [
    line('P1', '`tests/x.test.ts` "it holds"'),
    line('P1', '`tests/x.test.ts` "it holds"'),
    line('P2', 'none'),
    line('P3', '`tests/y.test.ts` "it holds"'),
    line('P4', '`tests/x.test.ts` "another"'),
    '| P5 | 5 | a | b |  | `tests/x.test.ts` "it holds" | d |',
  ].join('\n');
  const sources = [{ path: 'tests/x.test.ts', text: "test('it holds', f);" }];
  expect(hazardsWrong(rowsIn(text), sources)).toEqual([
    'P1 is there twice.',
    'P2 names no test.',
    'P3 names tests/y.test.ts, which does not exist.',
    'P4: tests/x.test.ts has no test "another".',
    'P5 has 6 cells that say something, not 7.',
  ]);
});
