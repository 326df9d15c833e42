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
      const finished = { finishedAt: at, computed, fast };
      return withState(changed(current, event, checkpoint), checkpoint, finished);
    }
    case 'checkpointReopened': {
      const { checkpoint, reason, at } = event;
      const reopened = [...(current.checkpoints[checkpoint]?.reopened ?? []), { reason, at }];
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
