import { yearsOld } from '#engine/applies.ts';
import { redosesOf } from '#engine/case/redosesOf.ts';
import { doseOf, type TableDose } from '#engine/checkpoints/doseOf.ts';
import { lastDoses, medicineOf } from '#engine/checkpoints/prophylaxis.ts';
import { minutesBetween } from '#engine/quantities.ts';
import type { Medicine } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { instantText } from '#session/browserPorts.ts';
import { say } from '#words/say.ts';

/** Wherever a number of the table stands. */
export const doseCaution = () =>
  say`The table knows no kidneys, no allergy and no other medicine. The hospital's own list and the anaesthetist
    decide.`;

/** What the table of the sheet gives this patient of a medicine. Where it is not known there is no number. */
export type TableWords = {
  readonly isKnown: boolean;
  readonly said: string;
  /** How the table comes to it, or why it does not; and where the table is from. */
  readonly how: string;
};

export function tableWords(current: Case, medicine: Medicine, now: string): TableWords {
  const { patient, sheet } = current;
  const dose = doseOf(medicine, { patient, policy: sheet.policy, on: now });
  if (!dose.known)
    return { isKnown: false, said: say`Not known here: ask the anaesthetist`, how: dose.sentence };
  const isChild = yearsOld(patient.born, now) < sheet.policy.childUnderYears;
  const whose = isChild ? childWords(dose, patient.weightKg) : say`An adult`;
  return { isKnown: true, said: milligrams(dose), how: `${whose}. ${medicine.source}.` };
}

function milligrams({ mg, upToMg, part }: Extract<TableDose, { known: true }>): string {
  const range = upToMg === undefined ? say`${mg} mg` : say`${mg} to ${upToMg} mg`;
  return part === undefined ? range : say`${range} of ${part}`;
}

function childWords(
  dose: Extract<TableDose, { known: true }>,
  weightKg: number | undefined,
): string {
  const by = say`A child, by ${weightKg} kg`;
  const capped = dose.isCapped ? say`${by}: the dose of an adult, never more` : by;
  return dose.isOnce ? say`${capped}; given once` : capped;
}

/** A medicine that was given, and its next dose. `due` is what the team should hear of now. */
export type NextDose = {
  readonly agent: string;
  readonly name: string;
  /** When its last dose was started. */
  readonly startedAt: string;
  readonly state: 'waits' | 'soon' | 'due' | 'none';
  readonly said: string;
  readonly how: string;
};

/** So long before its time a dose is drawn up. Common practice, no source. Units: minutes. */
const soonMinutes = 15;

/** The next dose of every medicine given. No time is shown where the table gives no interval. */
export function nextDoses(current: Case, now: string): readonly NextDose[] {
  const redoses = redosesOf(current);
  return lastDoses(current).map((dose) => {
    const medicine = medicineOf(current, dose.agent);
    const redose = redoses.find(({ agent }) => agent === dose.agent);
    const known = { agent: dose.agent, name: medicine?.name ?? dose.agent, startedAt: dose.at };
    if (redose === undefined || redose.state === 'untimed')
      return {
        ...known,
        state: 'none',
        said: say`No time in the table`,
        how: redose?.sentence ?? say`The sheet does not know it. Ask the anaesthetist.`,
      };
    const hours = say`${medicine?.redoseHours} h after it was started. ${medicine?.source}.`;
    if (redose.state === 'bled') {
      const limit = current.sheet.policy.redoseBloodLossMl;
      return {
        ...known,
        state: 'due',
        said: say`Next dose before its time`,
        how: say`About ${redose.lossMl} mL lost since, more than ${limit} mL. ${medicine?.source}.`,
      };
    }
    const left = minutesBetween(now, redose.dueAt);
    const state = left <= 0 ? 'due' : left <= soonMinutes ? 'soon' : 'waits';
    const words = left <= 0 ? say`Next dose due since` : say`Next dose due at`;
    return { ...known, state, said: `${words} ${timeHere(redose.dueAt)}`, how: hours };
  });
}

/** The time of day of an instant, where this tablet is. */
const timeHere = (instant: string): string => instantText(new Date(instant)).slice(11, 16);
