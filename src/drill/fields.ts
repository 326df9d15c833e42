/**
 * What a field takes. `pieces` and `number` are given to the engine as they stand, so that it can refuse them;
 * everything else that has the wrong form is a mistake in the file.
 */
export type FieldKind =
  | 'line'
  | 'place'
  | 'site'
  | 'text'
  | 'person'
  | 'people'
  | 'texts'
  | 'yes or no'
  | 'time'
  | 'pieces'
  | 'number'
  | 'numbers'
  | 'pieces by line'
  | 'answer'
  | 'name and reason'
  | 'answers'
  | 'reasons by step'
  | 'names by step'
  | 'found by line'
  | 'label';

/** What each kind looks like, for the README. */
export const fieldForms: Readonly<Record<FieldKind, string>> = {
  line: 'A line of the sheet, by its short name.',
  place:
    '`supply` `table` `patient` (where there is one site) `patient/<site>` `off` `stays` `specimen` `away` `missing` `changed`',
  site: 'A site of the sheet, by its short name.',
  text: 'Words.',
  person: 'A name, or a role: whoever is in it now.',
  people: 'A list of names or roles; one alone needs no brackets.',
  texts: 'A list of words; one alone needs no brackets.',
  'yes or no': '`yes` or `no`, `true` or `false`',
  time: 'Date and time with an offset.',
  pieces: 'A whole number. Anything else is refused by the engine, by code.',
  number: 'A number. What does not fit is refused by the engine, by code.',
  numbers: 'A list of numbers.',
  'pieces by line': '`{ line: number }`',
  answer: 'What the step takes: yes or no, a choice, a number, a time or words.',
  'name and reason': '`{ name, reason }`',
  answers:
    '`usual`, or by step: an answer, `{ notApplicable: reason }`, `{ open: { name, reason } }`, or nothing.',
  'reasons by step': '`{ step: reason }`',
  'names by step': '`{ step: { name, reason } }`',
  'found by line':
    '`usual`, or by line: `usual` or `{ field, off, packs }`; what is left out is as usual.',
  label:
    '`usual`, or the fields that say otherwise: `patientName` `patientNumber` `born` `letter` `specimenName` `site` `side` `takenAt`',
};

export type Field = {
  readonly takes: FieldKind;
  /** The words that it knows, where there are only so many. */
  readonly oneOf?: readonly string[];
  readonly needed?: true;
  readonly says: string;
};

/** One command word: what it does, and its fields. */
export type Word<Names extends string = string> = {
  readonly says: string;
  readonly fields: { readonly [name in Names]: Field };
};
