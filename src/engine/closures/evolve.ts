import { applied } from '../applied.ts';
import { gatesOf, signOut } from '../applies.ts';
import { unreachable } from '../assert.ts';
import type { Stamped } from '../decision.ts';
import type { Case, CheckpointState, ClosureState } from '../state.ts';
import type { ClosuresEvent, Reopened } from './events.ts';

/** Applies the last look, closures made and reopened, and the end of the case. */
export function evolveClosures(current: Case, event: Stamped<ClosuresEvent>): Case {
  switch (event.type) {
    case 'looked': {
      const { closure, answers } = event;
      const before = current.looks[closure];
      const next = applied(current, event, {
        type: event.type,
        subject: closure,
        canTakeBack: true,
        undo: [{ slice: 'looks', key: closure, before }],
      });
      return { ...next, looks: { ...next.looks, [closure]: { ...before, ...answers } } };
    }
    case 'closed': {
      const next = applied(current, event, { type: event.type, subject: event.closure });
      return withClosure(next, event.closure, { closedAt: event.at, entry: event.entry });
    }
    case 'reopened':
      return evolveReopened(current, event);
    case 'finished':
      return {
        ...applied(current, event, { type: event.type, subject: '' }),
        finishedAt: event.at,
      };
    default:
      return unreachable(event);
  }
}

function withClosure(current: Case, id: string, change: Partial<ClosureState>): Case {
  const state = { closedAt: undefined, entry: 0, reopened: [], ...current.closures[id], ...change };
  return { ...current, closures: { ...current.closures, [id]: state } };
}

/** Reopening an inner closure undoes every later one, and sign out; the last look is asked again. */
function evolveReopened(current: Case, event: Stamped<Reopened>): Case {
  const { closure, reason, at } = event;
  const gates = gatesOf(current);
  const undone = gates.slice(gates.indexOf(closure));
  let next = applied(current, event, { type: event.type, subject: closure });
  for (const gate of undone) {
    const reopened = [...(next.closures[gate]?.reopened ?? []), { reason, at }];
    if (next.closures[gate]?.closedAt)
      next = withClosure(next, gate, { closedAt: undefined, reopened });
  }
  const looks = Object.fromEntries(
    Object.entries(next.looks).filter(([id]) => !undone.includes(id)),
  );
  const state = next.checkpoints[signOut];
  if (state?.finishedAt === undefined) return { ...next, looks };
  const again: CheckpointState = {
    ...state,
    finishedAt: undefined,
    reopened: [...state.reopened, { reason, at }],
  };
  return { ...next, looks, checkpoints: { ...next.checkpoints, [signOut]: again } };
}
