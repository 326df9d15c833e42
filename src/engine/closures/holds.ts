/** Every reason why not. Codes are fixed in the design; the meaning is what `checklists/README.md` prints. */
export const holdMeanings = {
  'checkpoint-open': 'An earlier checkpoint is not finished.',
  'baseline-open': 'There is no first count, or a tray was opened and not counted in.',
  'relief-due': 'Somebody took over as scrub or circulator and has not counted.',
  'count-differs': 'A line of the last count did not agree and is not settled by recounts.',
  'line-short': 'A discrepancy is open: fewer were seen than the record knows.',
  'line-over': 'A discrepancy is open: more were seen than the record knows.',
  'count-due': 'The count that this closure needs was not done, is stale, or is void.',
  'fragment-open': 'A broken piece has fragments that are not all accounted for.',
  'piece-inside': 'The record has a piece inside that is neither in use nor left on purpose.',
  'stays-unexplained':
    'A piece stays that may not, or whose reason, place or lot number is missing.',
  'specimen-inside': 'A specimen is not out, or its pieces do not make a whole.',
  'specimen-unlabelled': 'A specimen is not in its pot and labelled.',
  'specimen-unread': 'A label has not been read back by a second person.',
  'look-open': "The surgeon's last look is not complete.",
  'closure-order': 'An inner closure is still open.',
  'xray-owed': 'A waived count or a declared discrepancy owes an X-ray.',
  'handover-open': 'Something left on purpose is not in the handover.',
  'specimen-here': 'A specimen has not been handed over.',
  'not-saved': 'The record could not be written to this device.',
} as const;

export type HoldCode = keyof typeof holdMeanings;

/** Where on the screen it is settled. */
export type HoldScreen =
  | 'checkpoint'
  | 'count'
  | 'recount'
  | 'discrepancy'
  | 'frame'
  | 'specimen'
  | 'look'
  | 'closure'
  | 'handover'
  | 'xray'
  | 'journal';

/** One reason why a gate does not open: a sentence, who can settle it, and where. */
export type Hold = {
  readonly code: HoldCode;
  /** The line, specimen, checkpoint, moment or closure it is about. */
  readonly about: string;
  readonly title: string;
  readonly detail: string;
  readonly who: string;
  readonly screen: HoldScreen;
};
