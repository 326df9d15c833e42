import type { Stamp } from '../decision.ts';
import type { Case, Differing, Settled } from '../state.ts';
import { differenceOf } from './differenceOf.ts';
import type { CountAgreed, Outcome } from './events.ts';
import { gateOf } from './gateOf.ts';

/** Recounts in a row that must agree before a line that differed is settled. */
const agreeingInARow = 2;

/**
 * What the outcomes of a count (`agreed`) or of a recount do to the lines that differ.
 *
 * agree -> [differs] -> recount; recount -> [differs] -> discrepancy; discrepancy -> [differs] -> discrepancy
 * recount or discrepancy -> [agrees twice in a row] -> settled
 * A line of a whole count that agrees is one agreeing recount of it.
 * Rules: C5, C8.
 */
export function afterOutcomes(
  current: Case,
  event: Stamp & { readonly outcomes: readonly Outcome[] },
  agreed: CountAgreed | undefined,
): Case {
  const differing: Record<string, Differing> = { ...current.differing };
  const settled: Settled[] = [...current.settled];
  for (const outcome of event.outcomes) {
    const before = differing[outcome.line];
    const after = next(current, before, { outcome, event, agreed });
    if (after === undefined) delete differing[outcome.line];
    else differing[outcome.line] = after;
    if (before && !after)
      settled.push({ ...before, streak: agreeingInARow, how: 'agreed', settledAt: event.at });
  }
  return { ...current, differing, settled };
}

type Judged = {
  readonly outcome: Outcome;
  readonly event: Stamp;
  readonly agreed: CountAgreed | undefined;
};

function next(
  current: Case,
  before: Differing | undefined,
  { outcome, event, agreed }: Judged,
): Differing | undefined {
  const difference = differenceOf(outcome);
  if (!before) {
    if (difference === 0 || !agreed) return undefined;
    return {
      line: outcome.line,
      entry: event.entry,
      stage: 'recount',
      moment: agreed.moment,
      gate: gateOf(current, outcome.line),
      difference,
      expected: outcome.expected,
      found: outcome.expected + difference,
      amended: 0,
      streak: 0,
      recounts: 0,
      steps: {},
      openedAt: event.at,
    };
  }
  const recounts = before.recounts + 1;
  if (difference === 0) {
    const streak = before.streak + 1;
    return streak >= agreeingInARow ? undefined : { ...before, streak, recounts };
  }
  return {
    ...before,
    stage: 'discrepancy',
    difference,
    expected: outcome.expected,
    found: outcome.expected + difference,
    amended: 0,
    streak: 0,
    recounts,
  };
}
