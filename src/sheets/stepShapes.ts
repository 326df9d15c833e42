import { carriedFrom, computedFrom, othersAsked, roles } from '#engine/sheet.ts';
import { sentence, words } from './commonShapes.ts';
import type { Reader } from './reader.ts';
import { byId, eitherOf, fields, list, mapped, needed, optional, orShared } from './readers.ts';
import { id, number, oneOf, text, yesNo } from './scalarReaders.ts';

/** How checkpoints, last looks and their steps are written. */

/** When a step, checkpoint, specimen or closure applies. */
export const when = fields('when it applies', {
  variant: optional(list(id, 20), 'Only with one of these variants.'),
  step: optional(id, 'Only after this earlier step was answered.'),
  is: optional(list(text(40), 20), 'Only if that answer was one of these.'),
  flagged: optional(yesNo, 'Only if that number was over its limit (or was not).'),
});

const answerWords = ['confirm', 'number', 'time', 'text', ...computedFrom] as const;
/** How a step is answered, as it is written: a word, or the answers to choose from by id. */
export type AnswerWritten = (typeof answerWords)[number] | ReadonlyMap<string, string>;
const answerWord: Reader<AnswerWritten> = oneOf(answerWords, ', or a list of answers');
const answerList: Reader<AnswerWritten> = mapped(
  list(id, 20),
  (ids) => new Map(ids.map((one) => [one, capitalised(one)])),
);
const answerNames: Reader<AnswerWritten> = byId(words, 'answers', 20);
const answer = eitherOf<AnswerWritten>(
  ({ kind }) => (kind === 'list' ? answerList : kind === 'map' ? answerNames : answerWord),
  [answerWord, answerList, answerNames],
  answerWord.expected,
);

const capitalised = (word: string): string =>
  `${word.charAt(0).toUpperCase()}${word.slice(1).replaceAll('-', ' ')}`;

const stepShape = {
  who: needed(oneOf([...roles, ...othersAsked]), 'Who answers.'),
  ask: needed(sentence, 'The question, as it is read aloud.'),
  short: needed(text(48), 'The same in a few words, for lists.'),
  answer: optional(
    answer,
    'confirm (if left out), number, time, text, a list of answers, or what the case itself answers.',
  ),
  usual: optional(
    eitherOf<string>(
      (tree) =>
        tree.kind === 'scalar' && typeof tree.value === 'number'
          ? mapped(number(0, 99_999, false), String)
          : words,
      [words, mapped(number(0, 99_999, false), String)],
      'the answer of a case without trouble',
    ),
    'The answer of a case without trouble. yes for a confirm if left out.',
  ),
  'stop-on': optional(list(text(40), 20, 0), 'Answers that stop. no for a confirm if left out.'),
  'may-not-apply': optional(yesNo, 'Whether "does not apply" is an answer, with a reason.'),
  when: optional(when, 'When it is asked. Always if left out.'),
  'who-item': optional(number(1, 19, true), 'Which item of the WHO list (2009) it is.'),
  unit: optional(text(12), 'The unit of a number.'),
  flag: optional(oneOf(['blood-loss']), 'The limit that the number is held against.'),
  opens: optional(
    fields('the line that a number opens', {
      line: needed(id, 'The line.'),
      site: needed(id, 'The site that it is in.'),
      from: needed(oneOf(carriedFrom), 'How that is known.'),
    }),
    'A number above 0 puts so many pieces of a line inside the patient.',
  ),
  source: optional(sentence, 'Where this comes from. That of the checkpoint if left out.'),
} as const;
/** One question, and how it is answered. */
export const step = fields('a step, with its question', stepShape);
/** Questions in order, under their short names. */
export const steps = byId(orShared(step), 'steps', 40);

const checkpointShape = {
  name: optional(words, 'Its name. Known for sign-in, time-out and sign-out.'),
  before: optional(id, 'What it comes before: anaesthesia, incision, a closure or leaving.'),
  leader: optional(oneOf(roles), 'Who leads it, and must be there.'),
  present: optional(list(oneOf(roles), 4), 'Who must be there.'),
  source: optional(sentence, 'Where its steps come from, where they do not say their own.'),
  when: optional(when, 'When it applies. Always if left out.'),
  steps: needed(steps, 'The questions, in order.'),
} as const;
/** A moment at which the team stops together. */
export const checkpoint = fields('a checkpoint, with its steps', checkpointShape);
