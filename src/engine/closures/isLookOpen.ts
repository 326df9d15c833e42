import { fitsVariant } from '../applies.ts';
import type { Closure, Step } from '../sheet.ts';
import type { Answer, Case } from '../state.ts';

/** The steps of a last look that are asked in this case. */
export function lookSteps(current: Case, closure: Closure): readonly Step[] {
  const answers = current.looks[closure.id] ?? {};
  return closure.look.filter((step) => {
    if (!fitsVariant(current, step.when)) return false;
    if (!step.when?.step) return true;
    const answer = answers[step.when.step];
    return answer?.kind === 'given' && (step.when.is?.includes(answer.value) ?? true);
  });
}

/** Whether an answer lets the look go on: any but one that stops. */
export const isLookAnswered = (step: Step, answer: Answer | undefined): boolean =>
  answer !== undefined && !(answer.kind === 'given' && step.stopOn.includes(answer.value));

/** Whether a step of the last look before this closure still waits, or was answered so that it stops. Rules: X5. */
export function isLookOpen(current: Case, closure: Closure): boolean {
  const answers = current.looks[closure.id] ?? {};
  return lookSteps(current, closure).some((step) => !isLookAnswered(step, answers[step.id]));
}
