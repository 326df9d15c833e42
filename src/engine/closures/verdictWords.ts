/** How a case ends. */
export type Verdict = 'open' | 'reconciled' | 'reconciled-with-record' | 'not-reconciled';

/** It in a sentence. The bare word "correct" is never used. */
export const verdictWords: Readonly<Record<Verdict, string>> = {
  open: 'The case is not finished.',
  reconciled: 'Reconciled: nothing was open that the record knows of.',
  'reconciled-with-record': 'Reconciled, with a record: read the exceptions.',
  'not-reconciled':
    'Not reconciled: something is unaccounted for, was not counted, or owes an X-ray.',
};
