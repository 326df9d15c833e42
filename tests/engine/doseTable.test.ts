import { expect, test } from 'vitest';
import { type Dosed, doseOf, dosingWeightKg } from '#engine/checkpoints/doseOf.ts';
import type { ChildDose, Medicine } from '#engine/sheet.ts';
import { opening } from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

/** Where a table gives a dose and where it gives none; numbers made up, the published ones are in tests/published. */

const on = '2026-01-05T08:00:00+00:00';
const medicine = (more: Partial<Medicine>): Medicine => ({
  id: 'm',
  name: 'M',
  windowMinutes: 60,
  redoseHours: 4,
  source: 'made up for tests',
  ...more,
});
const child = (one: Partial<ChildDose>, more: Partial<Medicine> = {}): Medicine =>
  medicine({ child: [{ mgPerKg: 10, ...one }], ...more });

function dosed(born: string, weightKg: number | undefined, idealKg?: number): Dosed {
  const { weightKg: _, ...bare } = opening.patient;
  const patient = weightKg === undefined ? { ...bare, born } : { ...bare, born, weightKg };
  const { policy } = storySheet;
  return idealKg === undefined ? { patient, policy, on } : { patient, policy, on, idealKg };
}

const adult = (weightKg?: number, idealKg?: number) => dosed('1970-01-31', weightKg, idealKg);
const small = (weightKg?: number, idealKg?: number) => dosed('2020-06-01', weightKg, idealKg);
const born = (day: string) => dosed(day, 4);
const bare = { known: true, isCapped: false, isOnce: false } as const;
const none = (sentence: string) => ({ known: false, sentence });
const noWeight = none('The weight is not known.');
const noChild = none('The table has no dose for this child.');
const heavy = { fromKg: 120, doseMg: 3000 };
const byWeight = medicine({ mgPerKg: 15 });
const byDosingWeight = medicine({ mgPerKg: 5, isByDosingWeight: true });

test.each<readonly [string, Medicine, Dosed, unknown]>([
  ['an adult without a dose', medicine({}), adult(70), none('The sheet has no dose of it.')],
  ['an adult, unweighed', medicine({ doseMg: 2000 }), adult(), { ...bare, mg: 2000 }],
  ['an adult whose weight would decide', medicine({ doseMg: 2000, heavy }), adult(), noWeight],
  ['a heavy adult', medicine({ doseMg: 2000, heavy }), adult(120), { ...bare, mg: 3000 }],
  ['an adult not so heavy', medicine({ doseMg: 2000, heavy }), adult(119.9), { ...bare, mg: 2000 }],
  ['an adult by weight', byWeight, adult(70), { ...bare, mg: 1050 }],
  ['an adult by weight, unweighed', byWeight, adult(), noWeight],
  [
    'somebody who is 18 today',
    medicine({ doseMg: 2000, child: [{ mgPerKg: 10 }] }),
    dosed('2008-01-05', 70),
    { ...bare, mg: 2000 },
  ],
  [
    'somebody who is 18 tomorrow',
    medicine({ doseMg: 2000, child: [{ mgPerKg: 10 }] }),
    dosed('2008-01-06', 70),
    { ...bare, mg: 700 },
  ],
  [
    'an adult by dosing weight, ideal not said',
    byDosingWeight,
    adult(70),
    none('It goes by dosing weight: the ideal weight is not known.'),
  ],
  ['an adult by dosing weight', byDosingWeight, adult(100, 60), { ...bare, mg: 380 }],
  ['a child, unweighed', child({}), small(), noWeight],
  ['a child without a table', medicine({ doseMg: 2000 }), small(20), noChild],
  ['a child', child({}), small(20.13), { ...bare, mg: 201.3 }],
  [
    'a child with a range',
    child({ upToMgPerKg: 15 }),
    small(20),
    { ...bare, mg: 200, upToMg: 300 },
  ],
  [
    'a child as heavy as an adult',
    child({ upToMgPerKg: 15 }, { doseMg: 250 }),
    small(30),
    { ...bare, mg: 250, upToMg: 250, isCapped: true },
  ],
  ['a child at just the dose', child({}, { doseMg: 200 }), small(20), { ...bare, mg: 200 }],
  [
    'a child, by a part of a mixture',
    child({}, { doseMg: 3000, part: { name: 'half', doseMg: 150 } }),
    small(20),
    { ...bare, mg: 150, part: 'half', isCapped: true },
  ],
  ['a child, once', child({ isOnce: true }), small(20), { ...bare, mg: 200, isOnce: true }],
  ['a child too heavy for it', child({ underKg: 20 }), small(20), noChild],
  ['a child light enough', child({ underKg: 20 }), small(19.9), { ...bare, mg: 199 }],
  ['a month old today', child({ fromMonths: 1 }), born('2025-12-05'), { ...bare, mg: 40 }],
  ['a month old tomorrow', child({ fromMonths: 1 }), born('2025-12-06'), noChild],
  ['not yet over a month', child({ overMonths: 1 }), born('2025-12-05'), noChild],
  ['over a month by a day', child({ overMonths: 1 }), born('2025-12-04'), { ...bare, mg: 40 }],
])('[K13] the dose of %s', (_, of, who, dose) => {
  expect(doseOf(of, who)).toStrictEqual(dose);
});

test.each([
  ['2025-08-31', '2026-02-27', false], // there is no 31st of February: six months end with its last day
  ['2025-08-31', '2026-02-28', true],
  ['2024-02-29', '2024-08-28', false],
  ['2024-02-29', '2024-08-29', true],
  ['2025-03-30', '2025-09-29', false],
  ['2025-03-30', '2025-09-30', true],
])('[K13] born on %s, six months old on %s: %s', (day, today, isOld) => {
  const who = { ...dosed(day, 4), on: `${today}T23:59:00+00:00` };
  expect(doseOf(child({ fromMonths: 6 }), who).known).toBe(isOld);
});

test('[K13] two months after the last of December is the last of February', () => {
  const old = (today: string) =>
    doseOf(child({ fromMonths: 2 }), { ...born('2025-12-31'), on: `${today}T08:00:00+00:00` })
      .known;
  expect([old('2026-02-27'), old('2026-02-28')]).toEqual([false, true]);
});

test('[K13] more than a fifth above the ideal weight, four tenths of the excess count', () => {
  expect(dosingWeightKg(72, 60)).toBe(72);
  expect(dosingWeightKg(100, 60)).toBe(76);
  expect(dosingWeightKg(50, 60)).toBe(50);
});
