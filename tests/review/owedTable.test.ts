import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { owedAfter } from '#engine/case/owedAfter.ts';
import { type OwedLine, owedTable } from '#review/owedTable.ts';
import { recordOfDrill } from '../support/records.ts';

const now = '2026-01-12T09:00:00+00:00';

test('a film stands before what is older', () => {
  const line = (kind: OwedLine['kind'], since: string): OwedLine => ({
    ...{ kind, since, about: kind, words: kind, who: 'Ensayo', plan: '' },
    ...{ patient: 'Testcase, Ash', number: 'TR-100', title: 'Invented', startedAt: since },
  });
  const owed = [line('result', '2026-01-01T08:00:00Z'), line('film', '2026-01-05T08:00:00Z')];
  const rows: readonly (readonly string[])[] = parse(owedTable(owed, now).text, { bom: true });
  expect(rows.slice(1).map(([kind]) => kind)).toEqual(['film not read', 'result not seen']);
});

const owedOf = async (file: string): Promise<readonly OwedLine[]> => {
  const { current } = await recordOfDrill(file);
  const { patient, sheet, startedAt } = current;
  return owedAfter(current).map((one) => ({
    ...one,
    patient: patient.name,
    number: patient.number,
    title: sheet.title,
    startedAt,
  }));
};

test('over two cases: the oldest first, with its days, who looks, and the plan', async () => {
  const owed = [
    ...(await owedOf('f02-braided-ties.yaml')),
    ...(await owedOf('f09-packs-left-by-intent.yaml')),
  ];
  const { text, name } = owedTable(owed, now);
  expect(name).toBe('lastlook-owed-2026-01-12.csv');
  const rows: readonly Readonly<Record<string, string>>[] = parse(text, {
    bom: true,
    columns: true,
    record_delimiter: '\r\n',
  });
  expect(rows.map((row) => [row.owed, row.what, row.days, row.number])).toEqual([
    ['must come out', '6 Large swab 45 × 45, liver, pelvis', '6', 'ZZ-TEST-0009'],
    ['must come out', '1 Drain, pelvis', '6', 'ZZ-TEST-0002'],
    ['result not seen', 'A Appendix, histology', '6', 'ZZ-TEST-0002'],
    ['result not seen', 'B Pus or peritoneal fluid, microbiology', '6', 'ZZ-TEST-0002'],
  ]);
  expect(rows[0]).toMatchObject({
    who: 'intensive care nurse',
    plan: '6 packs, liver 4 and pelvis 2, out in 24 to 48 h',
  });
});
