import { listedOf } from '../applies.ts';
import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { type Posting, transfer } from '../ledger.ts';
import { hasSurgeonAndOther, peopleFrom } from '../people.ts';
import { isText } from '../quantities.ts';
import type { Case } from '../state.ts';
import type { CountsEvent, Waive } from './events.ts';
import { hasMoment, linesOf } from './linesOf.ts';

/**
 * An emergency leaves a count out. The case then owes an X-ray and cannot be `reconciled`.
 *
 * A waived first count posts the tray list, not seen, so that nobody is trapped.
 * Refuses, first match wins: unknown-moment, reason-missing, surgeon-missing, already-counted, count-waived,
 * baseline-open, no-relief.
 * Rules: C11.
 * Source: WHO 2009 Obj. 7; ORNAC 2021 as restated in a course text: no initial count, X-ray before leaving.
 */
export function decideWaive(
  current: Case,
  command: Waive,
  context: Context,
): Decision<CountsEvent> {
  const { moment, reason } = command;
  const { counts } = current;
  if (!hasMoment(current, moment) || moment === 'added' || moment === 'extra')
    return refuse('unknown-moment', moment);
  if (!isText(reason)) return refuse('reason-missing', context.by);
  const agreedBy = peopleFrom(current.team, command.by ?? []);
  if (!hasSurgeonAndOther(current, agreedBy)) return refuse('surgeon-missing');
  if (moment === 'first' && counts.first === 'agreed') return refuse('already-counted');
  if (moment === 'first' && counts.first === 'waived') return refuse('count-waived');
  if (moment !== 'first' && counts.first === 'open') return refuse('baseline-open');
  if (moment === 'relief' && counts.reliefDue.length === 0) return refuse('no-relief');
  const lines = linesOf(current, moment);
  const postings = moment === 'first' ? listed(current, lines) : [];
  return accept<CountsEvent>({
    type: 'waived',
    moment,
    reason,
    agreedBy,
    lines: lines.length,
    postings,
  });
}

function listed(current: Case, lines: readonly string[]): readonly Posting[] {
  return lines.flatMap((id) => {
    const line = current.lines.get(id);
    return line ? transfer(id, 'supply', 'table', listedOf(current, line)) : [];
  });
}
