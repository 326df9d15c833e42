import type { Outcome } from './events.ts';

/** How many more were seen than the ledger expects; below zero where some are missing. Units: pieces. */
export const differenceOf = (outcome: Outcome): number =>
  outcome.found.field + outcome.found.off - outcome.expected;
