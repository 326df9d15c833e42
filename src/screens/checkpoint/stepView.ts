import { isFlagged } from '#engine/applies.ts';
import { computedOf } from '#engine/checkpoints/computedOf.ts';
import { isStopping } from '#engine/checkpoints/decide.ts';
import type { Step } from '#engine/sheet.ts';
import type { Answer, Case } from '#engine/state.ts';
import type { StepState, StepView } from '#parts/StepList.tsx';
import { say } from '#words/say.ts';
import { whoWords } from '../whoWords.ts';

export type AskedStep = { readonly checkpoint: string; readonly step: Step; readonly now: string };

/** A step as the list shows it: who answers, the words, and how it stands. */
export function stepView(current: Case, asked: AskedStep, here: Step | undefined): StepView {
  const { step } = asked;
  const isHere = here?.id === step.id;
  const { state, answer } = standing(current, asked);
  return {
    id: step.id,
    who: whoWords(step.who),
    words: isHere ? step.ask : step.short,
    state: isHere ? 'here' : state,
    answer,
  };
}

type Standing = { readonly state: StepState; readonly answer: string | undefined };

function standing(current: Case, { checkpoint, step, now }: AskedStep): Standing {
  const state = current.checkpoints[checkpoint];
  const answer = state?.answers[step.id];
  if (answer) return answered(current, step, answer);
  if (step.answering.kind !== 'computed') return { state: 'ahead', answer: undefined };
  const kept = state?.computed[step.id];
  if (kept !== undefined && state?.finishedAt) return { state: 'done', answer: kept };
  const { ok, words } = computedOf(current, step.answering.from, now);
  return { state: ok ? 'done' : 'ahead', answer: words };
}

function answered(current: Case, step: Step, answer: Answer): Standing {
  if (answer.kind === 'not-applicable') return { state: 'not-applicable', answer: answer.reason };
  if (answer.kind === 'open') return { state: 'open', answer: `${answer.name}: ${answer.reason}` };
  const words = valueWords(step, answer.value);
  if (isStopping(step, answer)) return { state: 'stopped', answer: words };
  const flag = isFlagged(current, step, answer.value) ? say`, over the limit` : '';
  const band = answer.scanned ? say`, wristband scanned` : '';
  return { state: 'done', answer: `${words}${flag}${band}` };
}

function valueWords(step: Step, value: string): string {
  const { answering } = step;
  if (answering.kind === 'choice')
    return answering.options.find((option) => option.id === value)?.name ?? value;
  if (answering.kind === 'number') return answering.unit ? `${value} ${answering.unit}` : value;
  if (answering.kind === 'confirm') return value === 'yes' ? say`Yes` : say`No`;
  return answering.kind === 'time' ? value.slice(11, 16) : value;
}
