import { expect, test } from 'vitest';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { shared, small } from './small.ts';

/**
 * Hours from the start of a dose to the next, and minutes before incision.
 *
 * Source: ASHP/IDSA/SIS/SHEA 2013, table 1; vancomycin and quinolones may start 120 minutes before.
 */
const table: readonly (readonly [string, number | null, number])[] = [
  ['ampicillin-sulbactam', 2, 60],
  ['ampicillin', 2, 60],
  ['aztreonam', 4, 60],
  ['cefazolin', 4, 60],
  ['cefuroxime', 4, 60],
  ['cefotaxime', 3, 60],
  ['cefoxitin', 2, 60],
  ['cefotetan', 6, 60],
  ['ceftriaxone', null, 60],
  ['ciprofloxacin', null, 120],
  ['clindamycin', 6, 60],
  ['ertapenem', null, 60],
  ['fluconazole', null, 60],
  ['gentamicin', null, 60],
  ['levofloxacin', null, 120],
  ['metronidazole', null, 60],
  ['moxifloxacin', null, 120],
  ['piperacillin-tazobactam', 2, 60],
  ['vancomycin', null, 120],
];

test('the shared medicines are those of the published table', () => {
  const own = small.slice(small.indexOf('medicines:'), small.indexOf('policy: shared'));
  const text = small
    .replace('include: [core-steps, policy]', 'include: [core-steps, policy, medicines]')
    .replace(own, 'medicines: shared\n');
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  const medicines = parsed.ok ? parsed.sheet.medicines : [];
  expect(
    medicines.map(({ id, redoseHours, windowMinutes }) => [id, redoseHours, windowMinutes]),
  ).toEqual(table);
});
