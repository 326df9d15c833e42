import { minutesBetween } from '../quantities.ts';
import type { Medicine } from '../sheet.ts';
import type { Case, Dose } from '../state.ts';

/** How a dose stands to the incision, or to now while there is none. */
export type DoseWindow = {
  readonly state: 'in-window' | 'too-early' | 'late' | 'unknown-agent';
  /** Whole minutes before incision; negative when after. */
  readonly minutes: number;
  readonly windowMinutes: number | undefined;
};

/**
 * Whether a dose was started in its window before incision. The end of the window is inside.
 *
 * Units: minutes.
 * Rules: K8.
 * Source: ASHP/IDSA/SIS/SHEA 2013: within 60 minutes, vancomycin and fluoroquinolones within 120; the sheet
 * holds the numbers.
 */
export function doseWindow(dose: Dose, agent: Medicine | undefined, act: string): DoseWindow {
  const minutes = Math.floor(minutesBetween(dose.at, act));
  if (!agent) return { state: 'unknown-agent', minutes, windowMinutes: undefined };
  const { windowMinutes } = agent;
  if (minutesBetween(dose.at, act) < 0) return { state: 'late', minutes, windowMinutes };
  const state = minutes <= windowMinutes ? 'in-window' : 'too-early';
  return { state, minutes, windowMinutes };
}

export const medicineOf = (current: Case, agent: string): Medicine | undefined =>
  current.sheet.medicines.find((known) => known.id === agent);

/** The dose that stands best to the act: in its window, else the latest. */
export function bestDose(
  current: Case,
  act: string,
): { readonly dose: Dose; readonly window: DoseWindow } | undefined {
  const stood = current.doses.map((dose) => ({
    dose,
    window: doseWindow(dose, medicineOf(current, dose.agent), act),
  }));
  return stood.findLast(({ window }) => window.state === 'in-window') ?? stood.at(-1);
}

/**
 * When the next dose is due: the interval runs from the start of the last dose, not from the incision.
 *
 * Undefined where no dose was given or the table gives no interval: unknown is never shown as a time.
 * Rules: K9.
 * Source: ASHP/IDSA/SIS/SHEA 2013, Table 1.
 */
export function redoseDueAt(current: Case): string | undefined {
  const dose = current.doses.at(-1);
  const hours = dose && medicineOf(current, dose.agent)?.redoseHours;
  if (!dose || hours === undefined || hours === null) return undefined;
  return new Date(Date.parse(dose.at) + hours * 3_600_000).toISOString();
}
