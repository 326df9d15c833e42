/** What of the sheet applies to this case now: by variant, and by earlier answers. */

import type { Checkpoint, Closure, Line, Policy, Step, When } from './sheet.ts';
import type { Case, Patient } from './state.ts';

/** The last gate of every case. */
export const signOut = 'sign-out';

export function closuresOf(current: Case): readonly Closure[] {
  return current.sheet.closures.filter((closure) => fitsVariant(current, closure.when));
}

export const closureOf = (current: Case, id: string): Closure | undefined =>
  closuresOf(current).find((closure) => closure.id === id);

export function checkpointsOf(current: Case): readonly Checkpoint[] {
  return current.sheet.checkpoints.filter((checkpoint) => fitsVariant(current, checkpoint.when));
}

export const checkpointOf = (current: Case, id: string): Checkpoint | undefined =>
  checkpointsOf(current).find((checkpoint) => checkpoint.id === id);

/** Every gate in order: the closures, then sign out. */
export function gatesOf(current: Case): readonly string[] {
  return [...closuresOf(current).map((closure) => closure.id), signOut];
}

/** The steps that are asked, given what was answered so far. */
export function stepsOf(current: Case, checkpoint: Checkpoint): readonly Step[] {
  return checkpoint.steps.filter((step) => isAsked(current, checkpoint.id, checkpoint.steps, step));
}

export function isAsked(
  current: Case,
  checkpoint: string,
  steps: readonly Step[],
  step: Step,
): boolean {
  const { when } = step;
  if (!fitsVariant(current, when)) return false;
  if (!when?.step) return true;
  const answer = current.checkpoints[checkpoint]?.answers[when.step];
  if (answer?.kind !== 'given') return false;
  if (when.is && !when.is.includes(answer.value)) return false;
  if (when.flagged === undefined) return true;
  const asked = steps.find((known) => known.id === when.step);
  return asked !== undefined && isFlagged(current, asked, answer.value) === when.flagged;
}

/**
 * Whether the number given to a step is over its flag.
 *
 * Units: millilitres.
 * Source: WHO Surgical Safety Checklist 2009, item 7: more than 500 mL, in a child more than 7 mL/kg.
 */
export function isFlagged(current: Case, step: Step, value: string): boolean {
  if (step.answering.kind !== 'number' || step.answering.flag !== 'blood-loss') return false;
  return Number(value) > bloodLossLimitMl(current.patient, current.sheet.policy, current.startedAt);
}

/**
 * The blood loss above which the team prepares.
 *
 * Units: millilitres; the weight in kilograms. A child without a weight has the limit 0: unknown is never safe.
 */
export function bloodLossLimitMl(patient: Patient, policy: Policy, on: string): number {
  if (yearsOld(patient.born, on) >= policy.childUnderYears) return policy.bloodLossMl;
  return policy.childBloodLossMlPerKg * (patient.weightKg ?? 0);
}

/** Whole years from a date of birth (YYYY-MM-DD) to an instant. */
export function yearsOld(born: string, on: string): number {
  const [year = 0, month = 1, day = 1] = born.split('-').map(Number);
  const [yearNow = 0, monthNow = 1, dayNow = 1] = on.slice(0, 10).split('-').map(Number);
  const hadBirthday = monthNow > month || (monthNow === month && dayNow >= day);
  return yearNow - year - (hadBirthday ? 0 : 1);
}

/** Whether a closure of this case says that the line may still be in use inside. */
export function isInUse(current: Case, line: string): boolean {
  return closuresOf(current).some((closure) => closure.inUse.includes(line));
}

/** Sites that are closed: those of every closure that is made and not reopened. */
export function isSiteClosed(current: Case, site: string): boolean {
  return closuresOf(current).some(
    (closure) =>
      closure.sites.includes(site) && current.closures[closure.id]?.closedAt !== undefined,
  );
}

/** Pieces that the tray list of this sheet and its chosen variants puts on the table at the start. */
export function listedOf(current: Case, line: Line): number {
  return Object.values(current.variants).reduce((pieces, chosen) => {
    const variant = current.sheet.variants.find((known) => known.id === chosen);
    return pieces + (variant?.opens[line.id] ?? 0) - (variant?.without?.[line.id] ?? 0);
  }, line.opening);
}

export function fitsVariant(current: Pick<Case, 'variants'>, when: When | undefined): boolean {
  if (!when?.variant) return true;
  return Object.values(current.variants).some((chosen) => when.variant?.includes(chosen));
}
