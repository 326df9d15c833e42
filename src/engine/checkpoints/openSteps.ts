import { stepsOf } from '../applies.ts';
import type { Checkpoint, Step } from '../sheet.ts';
import type { Case } from '../state.ts';
import { computedOf } from './computedOf.ts';

/** The steps of a checkpoint that still wait for an answer. A computed one waits until the case satisfies it. */
export function openSteps(current: Case, checkpoint: Checkpoint, now: string): readonly Step[] {
  const answers = current.checkpoints[checkpoint.id]?.answers ?? {};
  return stepsOf(current, checkpoint).filter((step) => {
    if (answers[step.id] !== undefined) return false;
    return step.answering.kind !== 'computed' || !computedOf(current, step.answering.from, now).ok;
  });
}
