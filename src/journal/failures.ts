import { sayOf } from '#words/say.ts';

/**
 * Why the journal could not do what was asked. Nothing was recorded, unless the sentence says so.
 * `{row}` and `{home}` are filled in by `fail`.
 */
export const failures = {
  'no-secure-page': 'This page was not opened securely, so nothing can be kept.',
  'no-home': 'This browser offers no place to keep the record.',
  'journal-closed': 'The record is closed. Open the program again.',

  'not-json': 'This entry holds something that cannot be written down.',
  'bad-entry': 'This entry is not complete, so it was not written.',
  'entry-too-long': 'This entry is too long to be kept.',
  'stale-writer': 'Somebody else has taken over the writing of this case.',
  'other-writer': 'Another window has written to this case. Read the case again.',
  'earlier-unsaved': 'An earlier entry is not saved yet. It has to be saved first.',
  'not-saved': 'This entry is not saved.',

  'home-failed': 'The {home} on this tablet does not answer as it should.',
  'home-silent': 'The {home} on this tablet does not answer.',
  'home-taken': 'The {home} already holds another entry in this place.',
  'home-gap': 'The {home} lacks an earlier entry.',
  'home-changed': 'The {home} was written to by another window.',
  'cannot-read': 'No copy of this case can be read.',
  'unknown-case': 'This tablet holds no such case.',
  'case-locked': 'This case is locked. Somebody of the unit has to give a PIN first.',

  'file-too-large': 'This file is too large to be a record of a case.',
  'file-foreign': 'This file is not a record of a case written by this program.',
  'file-newer': 'This file was written by a newer version of the program.',
  'file-damaged': 'The first line of this file was damaged or changed.',
  'file-truncated': 'This file is not complete: it ends before its last row.',
  'signature-wrong':
    'The signature does not fit this record. One of them was changed, or another tablet signed.',
  'file-overlong': 'This file has more rows than were written.',
  'row-too-long': 'Row {row} is too long.',
  'row-unreadable': 'Row {row} cannot be read: it was damaged or changed.',
  'row-newer': 'Row {row} was written by a newer version of the program.',
  'row-changed': 'Row {row} was changed after it was written.',
  'row-foreign': 'Row {row} belongs to another case.',
  'row-missing': 'Row {row} is missing or out of order.',
  'row-twice': 'Row {row} repeats an earlier row.',
  'row-unlinked': 'Row {row} does not follow from the row before it.',
  'import-unsaved': 'Not all of this case could be saved. Bring the file in again.',
  'other-history': 'This tablet holds another row {row} of the same case. Nothing was changed.',
} as const;

/** What has to be said about the record although it can be used. Filled in by `report`. */
export const reports = {
  'one-home': 'Only one copy of the record is kept, not two.',
  'home-left-out':
    'The {home} could not be opened. Cases that only it holds are not shown until it can be.',
  'database-wiped':
    'The browser has thrown away the database. What is left is what the file holds.',
  'home-failed': 'The {home} could not be put right. The other copy is used.',
  'home-unreadable': 'The {home} cannot be read. The other copy is used.',
  'home-restored': 'The {home} had lost this case. It was restored from the other copy.',
  'home-behind':
    'The {home} lacked row {row}. It was made good. See whether the last entry was made twice.',
  'tail-damaged': 'The {home} was damaged at row {row}. What follows there was set aside.',
  'homes-disagree':
    'The two copies differ from row {row} on. The longer one is used; the other was set aside.',
  'rows-lost':
    'Row {row} could not be read in any copy. Check the record: an entry may be missing.',
  'not-saved': 'The last entry is not saved. The tablet is trying again.',
  'saved-again': 'Everything is saved again.',
} as const;

export type FailureCode = keyof typeof failures;
export type ReportCode = keyof typeof reports;

/** A failure as the user reads it. `row` is the row it speaks of; `detail` is for whoever mends it. */
export type Failure = {
  readonly code: FailureCode;
  readonly sentence: string;
  readonly row?: number;
  readonly detail?: string;
};

/** The form of every answer that is a "no". */
export type Failed = { readonly ok: false; readonly failure: Failure };

/** Something the user has to know although work goes on. */
export type Report = {
  readonly code: ReportCode;
  readonly sentence: string;
  readonly row?: number;
  readonly home?: string;
};

type Filling = { readonly row?: number; readonly home?: string; readonly detail?: string };

/** Makes the answer "no" with the sentence of its code. */
export function fail(code: FailureCode, filling: Filling = {}): Failed {
  const sentence = fill(sayOf(failures[code]), filling);
  const { row, detail } = filling;
  return {
    ok: false,
    failure: {
      code,
      sentence,
      ...(row === undefined ? {} : { row }),
      ...(detail === undefined ? {} : { detail }),
    },
  };
}

/** Makes a report with the sentence of its code. */
export function report(code: ReportCode, filling: Omit<Filling, 'detail'> = {}): Report {
  return { code, sentence: fill(sayOf(reports[code]), filling), ...filling };
}

const fill = (sentence: string, { row, home }: Filling): string =>
  sentence.replace('{row}', String(row ?? '')).replace('{home}', sayOf(home ?? 'store'));
