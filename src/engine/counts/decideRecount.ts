import { accept, type Decision, refuse } from '../decision.ts';
import { peopleFrom } from '../people.ts';
import { isSeen } from '../quantities.ts';
import type { Case, Found } from '../state.ts';
import { followTheEyes, outcomesOf } from './decideAgree.ts';
import type { CountsEvent, Recount } from './events.ts';

/**
 * Lines that differed are counted again by two people, still blind.
 *
 * Refuses, first match wins: unknown-line, not-differing, not-a-count, count-running, two-people.
 * Rules: C8.
 */
export function decideRecount(current: Case, command: Recount): Decision<CountsEvent> {
  const found: Record<string, Found> = {};
  const asked = Object.entries(command.lines);
  if (asked.length === 0) return refuse('unknown-line');
  for (const [line, seen] of asked) {
    const name = current.lines.get(line)?.name;
    if (name === undefined) return refuse('unknown-line', line);
    if (!current.differing[line]) return refuse('not-differing', name);
    const { field = 0, off = 0 } = seen;
    const isSaid = seen.field !== undefined || seen.off !== undefined;
    if (!isSaid || !isSeen(field) || !isSeen(off)) return refuse('not-a-count', name);
    found[line] = { field, off };
  }
  if (current.counts.running) return refuse('count-running');
  const agreedBy = peopleFrom(current.team, command.by ?? ['scrub', 'circulator']);
  if (agreedBy.length < 2) return refuse('two-people');
  const outcomes = outcomesOf(current, found);
  const postings = outcomes.flatMap((outcome) => followTheEyes(current, outcome));
  return accept<CountsEvent>({ type: 'recounted', agreedBy, outcomes, postings });
}
