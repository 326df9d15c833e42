import { isInstant, isMeasure, isText } from '../quantities.ts';
import type { Step } from '../sheet.ts';

/** The words in which an answer is kept, or undefined when it does not answer the question. */
export function answerFrom(step: Step, value: unknown): string | undefined {
  const { answering } = step;
  switch (answering.kind) {
    case 'confirm':
      if (value === true || value === 'yes') return 'yes';
      return value === false || value === 'no' ? 'no' : undefined;
    case 'choice':
      return answering.options.some((option) => option.id === value) ? String(value) : undefined;
    case 'number': {
      const said =
        typeof value === 'string' && /^\d{1,5}(\.\d+)?$/.test(value) ? Number(value) : value;
      if (!isMeasure(said)) return undefined;
      return answering.opens && !Number.isInteger(said) ? undefined : String(said);
    }
    case 'time':
      return isInstant(value) ? value : undefined;
    case 'text':
      return isText(value) ? value : undefined;
    case 'computed':
      return undefined;
  }
}
