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

/**
 * First and second choices before an operation, as far as they stand in the table above.
 *
 * Source: WHO Model List of Essential Medicines, 21st list, 2019, 6.2.1 and 6.2.2; the fifth, amoxicillin with
 * clavulanic acid, has no line in the ASHP table, and so none here.
 */
const atHand = ['cefazolin', 'cefuroxime', 'gentamicin', 'metronidazole'];

function sharedMedicines() {
  const own = small.slice(small.indexOf('medicines:'), small.indexOf('policy: shared'));
  const text = small
    .replace('include: [core-steps, policy]', 'include: [core-steps, policy, medicines]')
    .replace(own, 'medicines: shared\n');
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  return parsed.ok ? parsed.sheet.medicines : [];
}

test('those that the WHO lists for use before operations have a key of their own, and no others', () => {
  const keys = sharedMedicines().filter((one) => one.isAtHand);
  expect(keys.map(({ id }) => id)).toEqual(atHand);
});

test('the shared medicines are those of the published table', () => {
  expect(
    sharedMedicines().map(({ id, redoseHours, windowMinutes }) => [id, redoseHours, windowMinutes]),
  ).toEqual(table);
});
