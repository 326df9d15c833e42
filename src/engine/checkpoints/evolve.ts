import { applied } from '../applied.ts';
import { unreachable } from '../assert.ts';
import type { Stamped } from '../decision.ts';
import type { Case, CheckpointState } from '../state.ts';
import type { CheckpointsEvent } from './events.ts';

/** Applies what was answered, begun, finished, cut or given. */
export function evolveCheckpoints(current: Case, event: Stamped<CheckpointsEvent>): Case {
  switch (event.type) {
    case 'checkpointBegun': {
      const { leader, present, at } = event;
      const begun = { begun: true, leader, present, beganAt: at, finishedAt: undefined };
      return withState(noted(current, event, event.checkpoint), event.checkpoint, begun);
    }
    case 'answered': {
      const id = event.checkpoint;
      const before = current.checkpoints[id];
      const answers = { ...before?.answers, [event.step]: event.answer };
      const next = applied(current, event, {
        type: event.type,
        subject: event.step,
        canTakeBack: true,
        undo: [{ slice: 'checkpoints', key: id, before }],
      });
      return withState(next, id, { answers });
    }
    case 'checkpointFinished': {
      const { checkpoint, computed, fast, at } = event;
      return withState(noted(current, event, checkpoint), checkpoint, {
        finishedAt: at,
        computed,
        fast,
      });
    }
    case 'checkpointReopened': {
      const { checkpoint, reason, at } = event;
      const reopened = [...(current.checkpoints[checkpoint]?.reopened ?? []), { reason, at }];
      return withState(noted(current, event, checkpoint), checkpoint, {
        finishedAt: undefined,
        reopened,
      });
    }
    case 'incised':
      return { ...noted(current, event, ''), incisionAt: event.at };
    case 'dosed': {
      const next = applied(current, event, {
        type: event.type,
        subject: event.agent,
        canTakeBack: true,
        undo: [{ slice: 'doses', before: current.doses }],
      });
      const { agent, mg, givenAt } = event;
      return { ...next, doses: [...next.doses, { agent, mg, at: givenAt }] };
    }
    default:
      return unreachable(event);
  }
}

const noted = (current: Case, event: Stamped<CheckpointsEvent>, subject: string): Case =>
  applied(current, event, { type: event.type, subject });

const untouched: CheckpointState = {
  begun: false,
  leader: '',
  present: [],
  answers: {},
  beganAt: '',
  finishedAt: undefined,
  computed: {},
  fast: false,
  reopened: [],
};

function withState(current: Case, id: string, change: Partial<CheckpointState>): Case {
  const state = { ...(current.checkpoints[id] ?? untouched), ...change };
  return { ...current, checkpoints: { ...current.checkpoints, [id]: state } };
}
