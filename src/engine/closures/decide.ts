import { closureOf, signOut } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { answerOf } from '../checkpoints/decide.ts';
import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { isText } from '../quantities.ts';
import type { Answer, Case } from '../state.ts';
import type { ClosuresCommand, ClosuresEvent, Look, LookAnswer } from './events.ts';
import { holdsOf, isGateDone } from './holdsOf.ts';

/** Answers the last look, asking to close, reopening and the end of the case. */
export function decideClosures(
  current: Case,
  command: ClosuresCommand,
  context: Context,
): Decision<ClosuresEvent> {
  switch (command.type) {
    case 'look':
      return decideLook(current, command, context);
    case 'close':
      return decideClose(current, command.closure);
    case 'reopen': {
      const { closure, reason } = command;
      if (!closureOf(current, closure)) return refuse('unknown-closure', closure);
      if (!isText(reason)) return refuse('reason-missing', closure);
      if (current.closures[closure]?.closedAt === undefined) return refuse('not-closed', closure);
      return accept<ClosuresEvent>({ type: 'reopened', closure, reason });
    }
    case 'finish': {
      const holds = holdsOf(current, signOut);
      if (holds.length > 0) return refuse('held', codes(holds));
      if (!isGateDone(current, signOut)) return refuse('checkpoint-open', signOut);
      return accept<ClosuresEvent>({ type: 'finished' });
    }
    default:
      return unreachable(command);
  }
}

/**
 * The surgeon answers steps of the last look.
 *
 * Refuses, first match wins: unknown-closure, unknown-step, already-closed, and those of an answer.
 * Rules: X5, X6.
 */
function decideLook(current: Case, command: Look, context: Context): Decision<ClosuresEvent> {
  const closure = closureOf(current, command.closure);
  if (!closure) return refuse('unknown-closure', command.closure);
  const stepOf = (id: string) => closure.look.find((known) => known.id === id);
  const unknown = Object.keys(command.answers).find((id) => !stepOf(id));
  if (unknown !== undefined) return refuse('unknown-step', unknown);
  if (current.closures[closure.id]?.closedAt) return refuse('already-closed', closure.name);
  const answers: Record<string, Answer> = {};
  for (const [id, given] of Object.entries(command.answers)) {
    const step = stepOf(id);
    if (!step) return refuse('unknown-step', id);
    const answer = answerOf(current, step, asAnswering(given), context);
    if (!('kind' in answer)) return answer;
    answers[id] = answer;
  }
  return accept<ClosuresEvent>({ type: 'looked', closure: closure.id, answers });
}

function asAnswering(given: LookAnswer) {
  return typeof given === 'object' ? given : { value: given };
}

/**
 * Asks to close. There is no "close anyway".
 *
 * Refuses, first match wins: unknown-closure, already-closed, held, checkpoint-open.
 * Rules: X1, X7.
 */
function decideClose(current: Case, gate: string): Decision<ClosuresEvent> {
  if (gate !== signOut && !closureOf(current, gate)) return refuse('unknown-closure', gate);
  if (current.closures[gate]?.closedAt !== undefined) return refuse('already-closed', gate);
  const holds = holdsOf(current, gate);
  if (holds.length > 0) return refuse('held', codes(holds));
  if (gate === signOut && !isGateDone(current, signOut)) return refuse('checkpoint-open', signOut);
  return accept<ClosuresEvent>({ type: 'closed', closure: gate });
}

export const codes = (holds: readonly { readonly code: string }[]): string =>
  [...new Set(holds.map((hold) => hold.code))].join(', ');
