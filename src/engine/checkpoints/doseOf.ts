import { say } from '#words/say.ts';
import { yearsOld } from '../applies.ts';
import type { ChildDose, Medicine, Policy } from '../sheet.ts';
import type { Patient } from '../state.ts';

/** What the table gives this patient, or why it gives nothing. It is read out, never given by itself. */
export type TableDose =
  | {
      readonly known: true;
      readonly mg: number;
      /** The upper end, where the table gives a range. */
      readonly upToMg?: number;
      /** The part of a mixture that the milligrams are of. */
      readonly part?: string;
      /** The adult dose, because the child's dose by weight is more. */
      readonly isCapped: boolean;
      readonly isOnce: boolean;
    }
  | { readonly known: false; readonly sentence: string };

/** Who is dosed. Units: kilograms; `on` an instant; `idealKg` the ideal weight, where somebody has said it. */
export type Dosed = {
  readonly patient: Patient;
  readonly policy: Policy;
  readonly on: string;
  readonly idealKg?: number;
};

const unknown = (sentence: string): TableDose => ({ known: false, sentence });
const given = { known: true, isCapped: false, isOnce: false } as const;

/**
 * The dose that the sheet's table gives for a patient. Arithmetic of a published table, not a prescription: a local
 * policy, the kidneys and an allergy are not in it.
 *
 * Units: milligrams. Unknown wherever the table, the weight or the ideal weight is missing: never a guess.
 * Rules: K13.
 * Source: ASHP/IDSA/SIS/SHEA 2013, Table 1 and its note b (a child is never given more than the adult dose).
 */
export function doseOf(medicine: Medicine, dosed: Dosed): TableDose {
  const { patient, policy, on } = dosed;
  const { weightKg } = patient;
  const isAdult = yearsOld(patient.born, on) >= policy.childUnderYears;
  const { doseMg, heavy, mgPerKg, isByDosingWeight } = medicine;
  if (isAdult && mgPerKg === undefined) {
    if (doseMg === undefined) return unknown(say`The sheet has no dose of it.`);
    if (heavy === undefined) return { ...given, mg: doseMg };
    if (weightKg === undefined) return unknown(say`The weight is not known.`);
    return { ...given, mg: weightKg >= heavy.fromKg ? heavy.doseMg : doseMg };
  }
  if (weightKg === undefined) return unknown(say`The weight is not known.`);
  if (isByDosingWeight && dosed.idealKg === undefined)
    return unknown(say`It goes by dosing weight: the ideal weight is not known.`);
  const kg = isByDosingWeight ? dosingWeightKg(weightKg, dosed.idealKg ?? weightKg) : weightKg;
  if (isAdult) return { ...given, mg: rounded((mgPerKg ?? 0) * kg) };
  const fits = medicine.child?.find((one) => fitsChild(one, patient.born, on, weightKg));
  return fits ? childDose(medicine, fits, kg) : unknown(say`The table has no dose for this child.`);
}

/**
 * The weight that a dose goes by in somebody more than a fifth above the ideal weight.
 *
 * Units: kilograms.
 * Source: ASHP/IDSA/SIS/SHEA 2013, notes of Table 1 (gentamicin).
 */
export function dosingWeightKg(actualKg: number, idealKg: number): number {
  return actualKg > idealKg * 1.2 ? idealKg + 0.4 * (actualKg - idealKg) : actualKg;
}

function childDose(medicine: Medicine, one: ChildDose, kg: number): TableDose {
  const { part, doseMg } = medicine;
  const mostMg = part ? part.doseMg : doseMg;
  const [mg, upToMg] = [one.mgPerKg, one.upToMgPerKg].map((each) =>
    each === undefined
      ? undefined
      : Math.min(rounded(each * kg), mostMg ?? Number.POSITIVE_INFINITY),
  );
  return {
    ...given,
    mg: mg ?? 0,
    ...(upToMg === undefined ? {} : { upToMg }),
    ...(part ? { part: part.name } : {}),
    isCapped: mostMg !== undefined && rounded(one.mgPerKg * kg) > mostMg,
    isOnce: one.isOnce === true,
  };
}

function fitsChild(one: ChildDose, born: string, on: string, weightKg: number): boolean {
  const day = on.slice(0, 10);
  if (one.fromMonths !== undefined && day < dayAtAge(born, one.fromMonths)) return false;
  if (one.overMonths !== undefined && day <= dayAtAge(born, one.overMonths)) return false;
  return one.underKg === undefined || weightKg < one.underKg;
}

/** The day on which somebody born on a day (YYYY-MM-DD) is so many months old. */
function dayAtAge(born: string, months: number): string {
  const [year = 0, month = 1, day = 1] = born.split('-').map(Number);
  const last = new Date(Date.UTC(year, month + months, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 + months, Math.min(day, last)))
    .toISOString()
    .slice(0, 10);
}

/** A tenth of a milligram: products of decimal numbers are not exact. */
const rounded = (mg: number): number => Math.round(mg * 10) / 10;
