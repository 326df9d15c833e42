import { expect, test } from 'vitest';
import { type Dosed, doseOf, dosingWeightKg } from '#engine/checkpoints/doseOf.ts';
import { adult, appendicectomy } from './theatre.ts';

/**
 * Source of every check of this file: ASHP/IDSA/SIS/SHEA 2013, American Journal of Health-System Pharmacy 70:195,
 * table 1, its note b (a child is never given more than the adult dose) and, for gentamicin, its note on the dosing
 * weight. Arithmetic of the table, to test code: not a prescription.
 */
type Who = { readonly kg?: number; readonly born?: string; readonly idealKg?: number };

function tableDose(agent: string, { kg, born = adult.born, idealKg }: Who) {
  const medicine = appendicectomy.medicines.find(({ id }) => id === agent);
  if (!medicine) throw new Error(`there is no ${agent} on the sheet`);
  const dosed: Dosed = {
    patient: { ...adult, born, ...(kg === undefined ? {} : { weightKg: kg }) },
    policy: appendicectomy.policy,
    on: '2026-01-05T08:00:00+00:00',
    ...(idealKg === undefined ? {} : { idealKg }),
  };
  return doseOf(medicine, dosed);
}

const child = { born: '2016-03-01' };
const newborn = { born: '2026-01-03' };

test('CV-44: an adult of 119 kg is given 2 g of cefazolin, one of 120 kg 3 g', () => {
  expect(tableDose('cefazolin', { kg: 119 })).toMatchObject({ known: true, mg: 2000 });
  expect(tableDose('cefazolin', { kg: 120 })).toMatchObject({ known: true, mg: 3000 });
});

test('CV-45: a child of 20 kg is given 600 mg of cefazolin, one of 80 kg no more than 2 g', () => {
  expect(tableDose('cefazolin', { ...child, kg: 20 })).toMatchObject({ mg: 600, isCapped: false });
  expect(tableDose('cefazolin', { ...child, kg: 80 })).toMatchObject({ mg: 2000, isCapped: true });
});

test('CV-46: an adult of 80 kg is given 1200 mg of vancomycin', () => {
  expect(tableDose('vancomycin', { kg: 80 })).toMatchObject({ known: true, mg: 1200 });
});

test('CV-47: at 90 kg with an ideal weight of 60 gentamicin goes by 72 kg: 360 mg', () => {
  expect(dosingWeightKg(90, 60)).toBe(72);
  expect(tableDose('gentamicin', { kg: 90, idealKg: 60 })).toMatchObject({ known: true, mg: 360 });
});

test('CV-48: at 80 kg with an ideal weight of 70, 14 % over, it goes by 80 kg: 400 mg', () => {
  expect(dosingWeightKg(80, 70)).toBe(80);
  expect(tableDose('gentamicin', { kg: 80, idealKg: 70 })).toMatchObject({ known: true, mg: 400 });
  expect(dosingWeightKg(72, 60)).toBe(72);
  expect(dosingWeightKg(73, 60)).toBeCloseTo(65.2);
});

test('CV-49: a child of 20 kg is given 300 mg of metronidazole, a newborn of 1 kg 7.5 mg once', () => {
  expect(tableDose('metronidazole', { ...child, kg: 20 })).toMatchObject({
    mg: 300,
    isOnce: false,
  });
  expect(tableDose('metronidazole', { ...newborn, kg: 1 })).toMatchObject({
    mg: 7.5,
    isOnce: true,
  });
  expect(tableDose('metronidazole', { ...newborn, kg: 1.2 })).toMatchObject({
    mg: 18,
    isOnce: false,
  });
});

test('CV-50: a child of 35 kg is given no more than the 3000 mg of piperacillin of an adult', () => {
  expect(tableDose('piperacillin-tazobactam', { ...child, kg: 35 })).toMatchObject({
    part: 'piperacillin',
    mg: 3000,
    isCapped: true,
  });
  const kg = 8;
  const of = (born: string) => tableDose('piperacillin-tazobactam', { born, kg });
  expect(of('2025-04-04')).toMatchObject({ mg: 800 });
  expect(of('2025-04-05')).toMatchObject({ mg: 640 });
  expect(of('2025-11-05')).toMatchObject({ mg: 640 });
  expect(of('2025-11-06')).toMatchObject({ known: false });
});

/** Adult dose in milligrams (or per kilogram), and a child's in milligrams per kilogram: the whole of the table. */
const table: readonly (readonly [string, number | undefined, readonly number[]])[] = [
  ['ampicillin-sulbactam', 3000, [50]],
  ['ampicillin', 2000, [50]],
  ['aztreonam', 2000, [30]],
  ['cefazolin', 2000, [30]],
  ['cefuroxime', 1500, [50]],
  ['cefotaxime', 1000, [50]],
  ['cefoxitin', 2000, [40]],
  ['cefotetan', 2000, [40]],
  ['ceftriaxone', 2000, [50]],
  ['ciprofloxacin', 400, [10]],
  ['clindamycin', 900, [10]],
  ['ertapenem', 1000, [15]],
  ['fluconazole', 400, [6]],
  ['gentamicin', undefined, [2.5]],
  ['levofloxacin', 500, [10]],
  ['metronidazole', 500, [7.5, 15]],
  ['moxifloxacin', 400, [10]],
  ['piperacillin-tazobactam', 3375, [100, 80]],
  ['vancomycin', undefined, [15]],
];

test('the doses of the shared medicines are those of the published table', () => {
  const shipped = appendicectomy.medicines.map(({ id, doseMg, child: doses }) => [
    id,
    doseMg,
    doses?.map(({ mgPerKg }) => mgPerKg),
  ]);
  expect(shipped).toEqual(table);
  const ceftriaxone = tableDose('ceftriaxone', { ...child, kg: 20 });
  expect(ceftriaxone).toMatchObject({ mg: 1000, upToMg: 1500 });
});

// Ours: unknown is never shown as a number.
test('[K13] a dose that needs a weight which is not known is not given as a number', () => {
  expect(tableDose('cefazolin', {})).toEqual({
    known: false,
    sentence: 'The weight is not known.',
  });
  expect(tableDose('vancomycin', child)).toMatchObject({ known: false });
  expect(tableDose('gentamicin', { kg: 80 })).toEqual({
    known: false,
    sentence: 'It goes by dosing weight: the ideal weight is not known.',
  });
  expect(tableDose('cefuroxime', {})).toMatchObject({ known: true, mg: 1500 });
});
