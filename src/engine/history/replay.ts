import type { CaseEvent } from '../case/events.ts';
import { evolve } from '../case/evolve.ts';
import { ownLedger, sharedLedger } from '../ledger.ts';
import type { Case } from '../state.ts';

/** What replaying a record gives: the case, or where it stops and the case as it was before that. */
export type Replayed =
  | { readonly ok: true; readonly current: Case }
  | {
      readonly ok: false;
      readonly row: number;
      readonly sentence: string;
      readonly current: Case | undefined;
    };

/**
 * Folds recorded rows into a case. A row that cannot be applied stops the replay before it.
 *
 * Units: `row` counts from 1.
 */
export function replay(rows: readonly { readonly events: readonly CaseEvent[] }[]): Replayed {
  let current: Case | undefined;
  let applied = 0;
  try {
    for (const { events } of rows) {
      let next = current;
      for (const event of events) next = evolve(next, event);
      // Nobody sees a case before the last: its ledger need not be copied with each entry.
      current = applied === 0 && next ? { ...next, ledger: ownLedger(next.ledger) } : next;
      applied++;
    }
  } catch (error) {
    // Not a Fault alone: a row that lacks a field throws what the language throws, and no row from outside may keep
    // the program from starting. The row may have been half written into the ledger, which is made again without it.
    const before = applied === 0 ? undefined : replay(rows.slice(0, applied)).current;
    return { ok: false, row: applied + 1, sentence: sentenceOf(error), current: before };
  }
  if (!current) return { ok: false, row: 1, sentence: 'The record is empty.', current };
  return { ok: true, current: { ...current, ledger: sharedLedger(current.ledger) } };
}

const sentenceOf = (error: unknown): string =>
  error instanceof Error ? error.message : 'It cannot be applied';
