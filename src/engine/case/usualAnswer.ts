import type { Step } from '../sheet.ts';

/** The answer that a case without trouble gives; undefined where the step takes its answer from the case. */
export function usualAnswer(step: Step, now: string): string | undefined {
  if (step.usual !== undefined) return step.usual;
  const { answering } = step;
  switch (answering.kind) {
    case 'confirm':
      return 'yes';
    case 'choice':
      return answering.options.find((option) => !step.stopOn.includes(option.id))?.id;
    case 'number':
      return '0';
    case 'time':
      return now;
    case 'text':
      return 'none';
    case 'computed':
      return undefined;
  }
}
