import { say } from '#words/say.ts';
import { checkpointOf } from '../applies.ts';
import { unreachable } from '../assert.ts';
import type { EntryWords } from '../said.ts';
import type { Step } from '../sheet.ts';
import type { Answer, Case } from '../state.ts';
import type { CheckpointsEvent } from './events.ts';

/** What was said at a checkpoint, in words. */
export function checkpointWords(current: Case, event: CheckpointsEvent): EntryWords {
  switch (event.type) {
    case 'incised':
      return { subject: say`Incision`, rest: '' };
    case 'dosed': {
      const agent = current.sheet.medicines.find((one) => one.id === event.agent);
      const dose = event.mg === undefined ? '' : say` ${event.mg} mg`;
      return {
        subject: agent?.name ?? event.agent,
        rest: say`given at ${event.givenAt.slice(11, 16)}${dose}`,
      };
    }
    default: {
      const checkpoint = checkpointOf(current, event.checkpoint);
      const subject = checkpoint?.name ?? event.checkpoint;
      if (event.type === 'checkpointBegun')
        return { subject, rest: say`led by ${event.leader}, present: ${event.present.join(', ')}` };
      if (event.type === 'checkpointReopened')
        return { subject, rest: say`reopened: ${event.reason}` };
      if (event.type === 'checkpointFinished')
        return {
          subject,
          rest: event.fast ? say`finished, faster than it can be said` : say`finished`,
        };
      const step = checkpoint?.steps.find((one) => one.id === event.step);
      return { subject: step?.short ?? event.step, rest: answerWords(step, event.answer) };
    }
  }
}

/** An answer in words, as the step calls it. */
export function answerWords(step: Step | undefined, answer: Answer): string {
  switch (answer.kind) {
    case 'given':
      return `${givenWords(step, answer.value)}${answer.scanned ? say`, wristband scanned` : ''}`;
    case 'not-applicable':
      return say`does not apply: ${answer.reason}`;
    case 'open':
      return say`left open by ${answer.name}: ${answer.reason}`;
    default:
      return unreachable(answer);
  }
}

function givenWords(step: Step | undefined, value: string): string {
  const answering = step?.answering;
  if (answering?.kind === 'choice')
    return answering.options.find((option) => option.id === value)?.name ?? value;
  if (answering?.kind === 'number' && answering.unit) return `${value} ${answering.unit}`;
  return answering?.kind === 'time' ? value.slice(11, 16) : value;
}
