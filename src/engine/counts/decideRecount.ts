import type { Found } from '../countState.ts';
import { accept, type Decision, refuse } from '../decision.ts';
import { peopleFrom } from '../people.ts';
import { isSeen } from '../quantities.ts';
import type { Case } from '../state.ts';
import { followTheEyes, outcomesOf } from './decideAgree.ts';
import type { CountsEvent, Recount } from './events.ts';

/**
 * Lines that differed are counted again by two people, still blind.
 *
 * Refuses, first match wins: unknown-line, not-a-count, two-people, count-running, not-differing.
 * Rules: C8.
 */
export function decideRecount(current: Case, command: Recount): Decision<CountsEvent> {
  const asked = Object.entries(command.lines);
  const nameOf = (line: string) => current.lines.get(line)?.name;
  const unknown = asked.find(([line]) => nameOf(line) === undefined);
  if (unknown || asked.length === 0) return refuse('unknown-line', unknown?.[0]);
  const found: Record<string, Found> = {};
  for (const [line, seen] of asked) {
    const { field = 0, off = 0 } = seen;
    const isSaid = seen.field !== undefined || seen.off !== undefined;
    if (!isSaid || !isSeen(field) || !isSeen(off)) return refuse('not-a-count', nameOf(line));
    found[line] = { field, off };
  }
  const agreedBy = peopleFrom(current.team, command.by ?? ['scrub', 'circulator']);
  if (agreedBy.length < 2) return refuse('two-people');
  if (current.counts.running) return refuse('count-running');
  const agreeing = asked.find(([line]) => !current.differing[line]);
  if (agreeing) return refuse('not-differing', nameOf(agreeing[0]));
  const outcomes = outcomesOf(current, found);
  const postings = outcomes.flatMap((outcome) => followTheEyes(current, outcome));
  return accept<CountsEvent>({ type: 'recounted', agreedBy, outcomes, postings });
}
