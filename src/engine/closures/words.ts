import { say } from '#words/say.ts';
import { closureOf } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { answerWords } from '../checkpoints/words.ts';
import type { EntryWords } from '../said.ts';
import type { Case } from '../state.ts';
import type { ClosuresEvent, Looked } from './events.ts';

/** What was closed or looked at, in words. */
export function closureWords(current: Case, event: ClosuresEvent): EntryWords {
  switch (event.type) {
    case 'looked':
      return lookWords(current, event);
    case 'closed':
      return {
        subject: closureOf(current, event.closure)?.name ?? say`Sign out`,
        rest: say`closed`,
      };
    case 'reopened':
      return {
        subject: closureOf(current, event.closure)?.name ?? event.closure,
        rest: say`reopened: ${event.reason}`,
      };
    case 'finished':
      return { subject: say`Case ended`, rest: '' };
    default:
      return unreachable(event);
  }
}

function lookWords(current: Case, event: Looked): EntryWords {
  const closure = closureOf(current, event.closure);
  const words = Object.entries(event.answers).map(([id, answer]) => {
    const step = closure?.look.find((one) => one.id === id);
    return `${step?.short ?? id}: ${answerWords(step, answer)}`;
  });
  return { subject: say`Last look`, rest: words.join('; ') };
}
