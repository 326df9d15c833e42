import { isBirthDate } from '#engine/case/open.ts';
import { groupsNotSaid } from '#engine/offered.ts';
import { samePerson } from '#engine/people.ts';
import { type Role, roles, type Sheet } from '#engine/sheet.ts';
import type { Patient, Team } from '#engine/state.ts';
import { say, sayOf } from '#words/say.ts';
import { groupWords } from '../variantGroups.ts';

/** What was filled in so far, as text. */
export type OpeningForm = {
  readonly sheet: string;
  readonly variants: Readonly<Record<string, string>>;
  readonly name: string;
  readonly number: string;
  readonly born: string;
  readonly weight: string;
  /** `unasked`, `none`, or `some` with the words in `allergyWords`. */
  readonly allergies: 'unasked' | 'none' | 'some';
  readonly allergyWords: string;
  readonly team: Team;
  readonly practice: boolean;
};

export const emptyForm = (sheet: string): OpeningForm => ({
  sheet,
  variants: {},
  name: '',
  number: '',
  born: '',
  weight: '',
  allergies: 'unasked',
  allergyWords: '',
  team: { scrub: '', circulator: '', surgeon: '', anaesthetist: '' },
  practice: false,
});

/** `plan`: something of the plan that must be chosen, such as the side. */
export type FieldName = 'plan' | 'name' | 'number' | 'born' | 'weight' | 'allergies' | Role;

/** What a page of the form reads and changes. */
export type PageProps = {
  readonly form: OpeningForm;
  readonly change: (part: Partial<OpeningForm>) => void;
  /** What is wrong with a field, once opening was tried. */
  readonly said: (field: FieldName) => string | undefined;
};

/** The pages in their order. */
export const pages = () =>
  [
    { id: 'operation', name: say`Operation` },
    { id: 'plan', name: say`Plan` },
    { id: 'patient', name: say`Patient` },
    { id: 'team', name: say`Team` },
  ] as const;
export type PageId = ReturnType<typeof pages>[number]['id'];

/** Where a field is filled in. */
export function pageOf(field: FieldName): PageId {
  if (field === 'plan') return 'plan';
  return roles.some((role) => role === field) ? 'team' : 'patient';
}

/** What is wrong with each field, in a sentence. Empty: the case can be opened. */
export function wrongIn(
  form: OpeningForm,
  now: string,
  sheet: Sheet | undefined,
): Readonly<Partial<Record<FieldName, string>>> {
  const wrong: Partial<Record<FieldName, string>> = {};
  const [missing] = sheet ? groupsNotSaid(sheet, form.variants) : [];
  if (missing !== undefined) wrong.plan = say`Choose in the plan: ${groupWords(missing)}.`;
  if (!form.name.trim()) wrong.name = say`Say the name as on the wristband.`;
  if (!form.number.trim()) wrong.number = say`Say the patient number as on the wristband.`;
  if (!isBirthDate(form.born, now)) wrong.born = say`Give a date of birth that is not after today.`;
  const weight = weightOf(form);
  if (form.weight.trim() && !(weight !== undefined && weight > 0 && weight <= 500))
    wrong.weight = say`Give the weight in kilograms, up to 500.`;
  if (form.allergies === 'some' && !form.allergyWords.trim())
    wrong.allergies = say`Say which allergies.`;
  for (const role of roles)
    if (!form.team[role].trim()) wrong[role] = say`Say who is the ${sayOf(role)}.`;
  const { scrub, circulator } = form.team;
  if (scrub.trim() && samePerson(scrub, circulator))
    wrong.circulator = say`Scrub and circulator must be two people.`;
  return wrong;
}

function weightOf(form: OpeningForm): number | undefined {
  const text = form.weight.trim().replace(',', '.');
  return /^\d{1,3}(\.\d{1,2})?$/.test(text) ? Number(text) : undefined;
}

/** The patient as the form says. Units: kilograms. */
export function patientOf(form: OpeningForm): Patient {
  const weightKg = weightOf(form);
  const words = form.allergyWords.split(',').map((word) => word.trim());
  return {
    name: form.name.trim(),
    number: form.number.trim(),
    born: form.born,
    ...(weightKg === undefined ? {} : { weightKg }),
    ...(form.allergies === 'none' ? { allergies: [] } : {}),
    ...(form.allergies === 'some' ? { allergies: words.filter(Boolean) } : {}),
  };
}
