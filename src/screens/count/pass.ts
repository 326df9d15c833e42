import { rowOf } from '#engine/ledger.ts';
import type { Case, RunningCount } from '#engine/state.ts';

/** Two places a count goes through: what lies in the field and on the table, then what was counted off. */
export type Pass = 'field' | 'off';

/** Lines of the second pass: those that have something off the field at all. Says nothing about how much. */
export function offLines(current: Case, running: RunningCount): readonly string[] {
  if (running.moment === 'first') return [];
  return running.lines.filter((line) => {
    const known = current.lines.get(line);
    return known !== undefined && rowOf(current.ledger, line).off > 0;
  });
}

/** The lines of a pass. */
export const linesOfPass = (current: Case, running: RunningCount, pass: Pass): readonly string[] =>
  pass === 'field' ? running.lines : offLines(current, running);
