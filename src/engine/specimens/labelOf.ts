import { isText } from '../quantities.ts';
import type { Case, Specimen } from '../state.ts';
import type { Label } from './events.ts';

/** What each field of a label is called when it is said aloud. */
export const labelFields: Readonly<Record<keyof Label, string>> = {
  patientName: 'name of the patient',
  patientNumber: 'number of the patient',
  born: 'date of birth',
  letter: 'letter of the specimen',
  specimenName: 'name of the specimen',
  site: 'site',
  side: 'side',
  takenAt: 'time taken',
};

/**
 * The label that this specimen must carry.
 *
 * Rules: S4.
 * Source: Joint Commission NPSG.01.01.01 (two patient identifiers); WHO 2009 Obj. 8 (name, site and side).
 */
export function labelOf(current: Case, specimen: Specimen): Required<Label> {
  return {
    patientName: current.patient.name,
    patientNumber: current.patient.number,
    born: current.patient.born,
    letter: specimen.letter,
    specimenName: specimen.name,
    site: specimen.siteWords,
    side: specimen.side,
    takenAt: specimen.takenAt ?? '',
  };
}

/**
 * The first field that a label must carry and does not: two identifiers, what it is, from where and when.
 *
 * The date of birth is a third identifier and may be left out; so may the side where there is none. Rules: S4.
 */
export function missingField(wanted: Required<Label>, said: Label): keyof Label | undefined {
  const needed = ['patientName', 'patientNumber', 'letter', 'specimenName', 'site'] as const;
  const fields = [
    ...needed,
    ...(wanted.side === 'not applicable' ? [] : (['side'] as const)),
    'takenAt',
  ] as const;
  return fields.find((field) => !isText(said[field]));
}

/** The first field in which a label differs from what it must say; fields not given are not compared. */
export function differingField(wanted: Required<Label>, said: Label): keyof Label | undefined {
  const fields: readonly (keyof Label)[] = [
    'patientName',
    'patientNumber',
    'born',
    'letter',
    'specimenName',
    'site',
    'side',
    'takenAt',
  ];
  return fields.find((field) => {
    const words = said[field];
    return words !== undefined && folded(words) !== folded(wanted[field]);
  });
}

/** Case and runs of spaces do not make a label differ. */
const folded = (words: string): string => words.trim().replace(/\s+/g, ' ').toLowerCase();
