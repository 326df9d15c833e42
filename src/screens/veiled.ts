import type { Case, Patient } from '#engine/state.ts';
import { say } from '#words/say.ts';

const hidden = () => say`Patient hidden`;
const veils = new WeakMap<Case, Case>();
const veiledPatients = new WeakSet<Patient>();

/**
 * The case as a locked tablet shows it: without name and number. Allergies stay, since nobody is known by them and
 * somebody may be about to give something. Birth date and weight stay in it and are not shown, since what a checkpoint
 * asks of a child follows from them. Only for showing: what is decided is decided on the whole case.
 */
export function veiled(current: Case): Case {
  const known = veils.get(current);
  if (known?.patient.name === hidden()) return known; // in the language that is spoken
  const patient = { ...current.patient, name: hidden(), number: 'locked' };
  const veil = { ...current, patient };
  veils.set(current, veil);
  veiledPatients.add(patient);
  return veil;
}

/** Born, as it may be shown now. */
export const bornShown = (patient: Patient): string =>
  veiledPatients.has(patient) ? '–' : patient.born;
