import type { Command } from '#engine/case/events.ts';
import type { StepSpecimen } from '#engine/specimens/events.ts';
import type {
  AnswerSaid,
  AnswersByStep,
  Asked,
  FoundByLine,
  FoundSaid,
  LabelSaid,
} from './asked.ts';
import { type DrillWord, drillWords } from './drillVocabulary.ts';
import type { Word } from './fields.ts';
import { fieldsFrom } from './fieldValues.ts';
import { type Given, kindOf, tell, within } from './problems.ts';
import { engineWords } from './vocabulary.ts';

const words: ReadonlyMap<string, Word> = new Map(
  Object.entries<Word>({ ...engineWords, ...drillWords }),
);

export const isCommandWord = (word: string): boolean => words.has(word);

const isDrillWord = (word: string): word is DrillWord => Object.hasOwn(drillWords, word);

/**
 * One command from outside: its word and its fields, both unknown until here.
 *
 * Every field is checked for its form. Numbers of pieces, lines, places and other names are not looked up: the
 * engine refuses what it does not know, by code.
 */
export function askedFrom(given: Given, name: string): Asked | undefined {
  const word = words.get(name);
  if (!word) return tell(given, `${name} is no command.`);
  const fields = fieldsFrom(given, name, word);
  if (!fields) return undefined;
  if (isDrillWord(name)) return drillAsked(given, name, fields);
  if (name === 'correct' && fields.last !== undefined && fields.last !== 1)
    return tell(
      within(given, 'last', fields.last),
      `correct last is ${kindOf(fields.last)}, where 1 is expected.`,
    );
  return engineAsked({ type: name, ...fields } as Command); // a parser: the table of words gave its form
}

/** Commands of which a part is completed from the case, because it may be `usual`. */
function engineAsked(command: Command): Asked {
  switch (command.type) {
    case 'look':
      return { kind: 'look', closure: command.closure, answers: said(command).answers ?? {} };
    case 'recount':
      return { kind: 'recount', lines: said(command).lines ?? {}, by: command.by };
    case 'specimen': {
      const { label } = said(command);
      return label
        ? { kind: 'label', command: withoutLabel(command), label }
        : { kind: 'command', command };
    }
    default:
      return { kind: 'command', command };
  }
}

/** The parts that a command holds in a drill's form, until they are completed. */
type Said = {
  readonly answers?: AnswersByStep;
  readonly lines?: FoundByLine;
  readonly label?: LabelSaid;
};
const said = (command: Command): Said => command as Said; // a parser: as `valueFrom` made them

function withoutLabel({ label: _, ...command }: StepSpecimen): StepSpecimen {
  return command;
}

/** The fields of a drill's own word, as `valueFrom` made them. */
type DrillFields = {
  readonly moment?: string;
  readonly found?: FoundByLine;
  readonly except?: FoundByLine & AnswersByStep;
  readonly scrub?: string;
  readonly circulator?: string;
  readonly by?: readonly string[];
  readonly id?: string;
  readonly answers?: AnswersByStep;
  readonly notApplicable?: Readonly<Record<string, string>>;
  readonly open?: Readonly<Record<string, { readonly name: string; readonly reason: string }>>;
  readonly leader?: string;
  readonly present?: readonly string[];
  readonly minutes?: unknown;
};

function drillAsked(
  given: Given,
  word: DrillWord,
  checked: Readonly<Record<string, unknown>>,
): Asked | undefined {
  const fields = checked as DrillFields; // a parser: the table of words gave its form
  switch (word) {
    case 'count': {
      const { moment = '', scrub, circulator, by } = fields;
      const found: Record<string, FoundSaid> = { ...fields.found, ...fields.except };
      return { kind: 'count', moment, found, scrub, circulator, by };
    }
    case 'checkpoint': {
      const { id = '', leader, present } = fields;
      return { kind: 'checkpoint', id, answers: answersOf(fields), leader, present };
    }
    case 'wait': {
      const { minutes } = fields;
      if (typeof minutes === 'number' && minutes >= 0 && minutes <= 100_000)
        return { kind: 'wait', minutes };
      return tell(
        within(given, 'minutes', minutes),
        `wait minutes is ${kindOf(minutes)}, where 0 to 100000 is expected.`,
      );
    }
  }
}

function answersOf(fields: DrillFields): AnswersByStep {
  const answers: Record<string, AnswerSaid> = { ...fields.answers, ...fields.except };
  for (const [step, reason] of Object.entries(fields.notApplicable ?? {}))
    answers[step] = { kind: 'notApplicable', reason };
  for (const [step, open] of Object.entries(fields.open ?? {}))
    answers[step] = { kind: 'open', ...open };
  return answers;
}
