import { verdictOf } from '../closures/verdictOf.ts';
import type { Verdict } from '../closures/verdictWords.ts';
import type { Case } from '../state.ts';
import { type Owed, owedAfter } from './owedAfter.ts';
import { type SettledAfter, settledAfter } from './settledAfter.ts';

/** What a list of cases says of one of them. */
export type Outcome = {
  readonly verdict: Verdict;
  /** What it still owes after the patient has left. */
  readonly owed: readonly Owed[];
  /** What it owed and a note has settled since. */
  readonly settled: readonly SettledAfter[];
};

/** How a case has ended, what it still owes, and what was settled since. */
export const outcomeOf = (current: Case): Outcome => ({
  verdict: verdictOf(current),
  owed: owedAfter(current),
  settled: settledAfter(current),
});
