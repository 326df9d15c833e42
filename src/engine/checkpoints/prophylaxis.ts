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

/** A dose and how it stands to the act. */
export type StoodDose = { readonly dose: Dose; readonly window: DoseWindow };

/** For each medicine given, the dose that stands best to the act: in its window, else the latest. Rules: K8. */
export function dosesByAgent(current: Case, act: string): readonly StoodDose[] {
  const best = new Map<string, StoodDose>();
  for (const dose of current.doses) {
    const stood = { dose, window: doseWindow(dose, medicineOf(current, dose.agent), act) };
    const isWorse =
      best.get(dose.agent)?.window.state === 'in-window' && stood.window.state !== 'in-window';
    if (!isWorse) best.set(dose.agent, stood);
  }
  return [...best.values()];
}

/**
 * The dose by which the prophylaxis is judged. Where several medicines were given before the act, each has its own
 * window, and the first that is outside decides. What was added after the act decides only where nothing came before.
 *
 * Rules: K8, K11.
 */
export function bestDose(current: Case, act: string): StoodDose | undefined {
  const stood = dosesByAgent(current, act);
  const before = stood.filter(({ window }) => window.state !== 'late');
  return before.find(({ window }) => window.state !== 'in-window') ?? before.at(-1) ?? stood.at(-1);
}

/** The latest dose of each medicine given, by the time at which it was started, not by when it was recorded. */
export function lastDoses(current: Case): readonly Dose[] {
  const last = new Map<string, Dose>();
  for (const dose of current.doses) {
    const known = last.get(dose.agent);
    if (!known || minutesBetween(known.at, dose.at) >= 0) last.set(dose.agent, dose);
  }
  return [...last.values()];
}

/**
 * When this medicine is due again after this dose: the interval runs from the start of the dose, not from the
 * incision. Undefined where the table gives no interval: unknown is never shown as a time.
 *
 * Rules: K9.
 * Source: ASHP/IDSA/SIS/SHEA 2013, Table 1.
 */
export function dueAfter(current: Case, dose: Dose): string | undefined {
  const hours = medicineOf(current, dose.agent)?.redoseHours;
  if (hours === undefined || hours === null) return undefined;
  return new Date(Date.parse(dose.at) + hours * 3_600_000).toISOString();
}

/** When the next dose of any medicine given is due: the earliest of them. Rules: K9, K11. */
export function redoseDueAt(current: Case): string | undefined {
  const due = lastDoses(current).flatMap((dose) => dueAfter(current, dose) ?? []);
  return due.sort((one, other) => minutesBetween(other, one))[0];
}
