import { checkpointsOf } from '../applies.ts';
import type { Case } from '../state.ts';

/** The item of the WHO list (2009) that asks for allergies. */
export const allergyItem = 5;

/**
 * What is known of the patient's allergies: those that were written, `unwritten` when the team said that there is one
 * and nobody wrote which, nothing when nobody has asked.
 *
 * What was written stands whatever is answered: an allergy is never shown as none.
 * Rules: K14.
 */
export function allergiesOf(current: Case): readonly string[] | 'unwritten' | undefined {
  const { allergies } = current.patient;
  if (allergies !== undefined && allergies.length > 0) return allergies;
  const isKnown = saidAtCheckpoint(current);
  if (isKnown === undefined) return allergies;
  return isKnown ? 'unwritten' : [];
}

/** Whether the team said that one is known; undefined while it was not asked, or was put otherwise than as a choice. */
function saidAtCheckpoint(current: Case): boolean | undefined {
  for (const { id, steps } of checkpointsOf(current))
    for (const step of steps) {
      if (step.whoItem !== allergyItem || step.answering.kind !== 'choice') continue;
      const answer = current.checkpoints[id]?.answers[step.id];
      if (answer?.kind === 'given') return answer.value !== step.usual;
    }
  return undefined;
}
