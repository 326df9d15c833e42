import { applied } from '../applied.ts';
import { assert, unreachable } from '../assert.ts';
import type { Stamped } from '../decision.ts';
import type { Case, CheckpointState } from '../state.ts';
import type { CheckpointsEvent } from './events.ts';

/** Applies what was answered, begun, finished, cut or given. */
export function evolveCheckpoints(current: Case, event: Stamped<CheckpointsEvent>): Case {
  switch (event.type) {
    case 'checkpointBegun': {
      const { leader, present, at } = event;
      const next = noted(current, event, event.checkpoint);
      const begun = { begun: true, leader, present, beganAt: at, finishedAt: undefined };
      const state = { ...begun, answers: {}, computed: {}, fast: false, reopened: [] };
      return { ...next, checkpoints: { ...next.checkpoints, [event.checkpoint]: state } };
    }
    case 'answered': {
      const id = event.checkpoint;
      const before = begunState(current, id);
      const answers = { ...before.answers, [event.step]: event.answer };
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
      const finished = { finishedAt: at, computed, fast };
      return withState(changed(current, event, checkpoint), checkpoint, finished);
    }
    case 'checkpointReopened': {
      const { checkpoint, reason, at } = event;
      const reopened = [...begunState(current, checkpoint).reopened, { reason, at }];
      const open = { finishedAt: undefined, reopened };
      return withState(changed(current, event, checkpoint), checkpoint, open);
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

/** Not taken back; but it stands in the way of taking back an answer that was given before it. */
const changed = (current: Case, event: Stamped<CheckpointsEvent>, id: string): Case =>
  applied(current, event, {
    type: event.type,
    subject: id,
    undo: [{ slice: 'checkpoints', key: id, before: current.checkpoints[id] }],
  });

function begunState(current: Case, id: string): CheckpointState {
  const state = current.checkpoints[id];
  assert(state !== undefined, 'a checkpoint begins before it is answered, finished or reopened');
  return state;
}

function withState(current: Case, id: string, change: Partial<CheckpointState>): Case {
  const state = { ...begunState(current, id), ...change };
  return { ...current, checkpoints: { ...current.checkpoints, [id]: state } };
}
