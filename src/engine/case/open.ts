import { accept, type Context, type Decision, refuse, type Stamped } from '../decision.ts';
import { samePerson } from '../people.ts';
import { isText } from '../quantities.ts';
import { roles, type Sheet } from '../sheet.ts';
import type { OpenCase, Opened } from './events.ts';

/**
 * Opens a case.
 *
 * Units: born as YYYY-MM-DD; weight in kilograms, more than 0 and at most 500.
 * Refuses, first match wins: unknown-variant, only-in-mid-case, not-a-number, not-a-time, name-missing (detail: the
 * field), same-person.
 * Rules: C1, X10, X12.
 */
export function openCase(command: OpenCase, context: Context): Decision<Stamped<Opened>> {
  const { patient, team, sheet } = command;
  const variants = chosen(sheet, command.variants ?? []);
  if (!variants) return refuse('unknown-variant', (command.variants ?? []).join(', '));
  const conversion = sheet.variants.find(
    ({ id, group, choose }) => choose === 'mid-case' && variants[group] === id,
  );
  if (conversion) return refuse('only-in-mid-case', conversion.name);
  const { weightKg } = patient;
  if (weightKg !== undefined && !(weightKg > 0 && weightKg <= 500))
    return refuse('not-a-number', 'weight');
  if (!isBirthDate(patient.born, context.at)) return refuse('not-a-time', 'born');
  if (!isText(patient.name)) return refuse('name-missing', 'name');
  if (!isText(patient.number)) return refuse('name-missing', 'number');
  const unnamed = roles.find((role) => !isText(team[role]));
  if (unnamed) return refuse('name-missing', unnamed);
  if (samePerson(team.scrub, team.circulator)) return refuse('same-person', team.scrub);
  const { caseId } = command;
  return accept<Stamped<Opened>>({
    type: 'opened',
    caseId,
    sheet,
    patient,
    team,
    variants,
    practice: command.practice === true,
    entry: 1,
    ...context,
  });
}

/** A date that exists and is not after today. */
export function isBirthDate(born: unknown, now: string): born is string {
  if (typeof born !== 'string' || born < '1880') return false;
  const instant = Date.parse(`${born}T00:00:00Z`);
  if (!(instant <= Date.parse(now))) return false; // nor when it is no instant at all
  return new Date(instant).toISOString().startsWith(`${born}T`); // 30 February would be 2 March
}

/** One variant of each group: those named, else the first of the group. */
function chosen(
  sheet: Sheet,
  named: readonly string[],
): Readonly<Record<string, string>> | undefined {
  const variants: Record<string, string> = {};
  for (const variant of sheet.variants) variants[variant.group] ??= variant.id;
  for (const id of named) {
    const variant = sheet.variants.find((known) => known.id === id);
    if (!variant) return undefined;
    variants[variant.group] = variant.id;
  }
  return variants;
}
