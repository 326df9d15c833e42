import type { Checkpoint, Step, When } from '#engine/sheet.ts';
import type { Answer, Case } from '#engine/state.ts';
import type { Printed } from './printed.ts';
import { blank, cell, choice, type Element, el, field, row, table } from './tree.ts';

/** The checkpoints, each with its questions as they are read aloud, and who answered when. */
export function checkpointPages({ sheet, current }: Printed): {
  /** Those before the incision. */
  readonly early: readonly Element[];
  readonly late: readonly Element[];
} {
  const isEarly = ({ before }: Checkpoint): boolean =>
    before === 'anaesthesia' || before === 'incision';
  const page = (one: Checkpoint): Element => checkpointPage(sheet.closures, one, current);
  return {
    early: sheet.checkpoints.filter(isEarly).map(page),
    late: sheet.checkpoints.filter((one) => !isEarly(one)).map(page),
  };
}

type Closures = readonly { readonly id: string; readonly name: string }[];

const checkpointPage = (
  closures: Closures,
  checkpoint: Checkpoint,
  current: Case | undefined,
): Element =>
  el(
    'section.checkpoint',
    el('h2', checkpoint.name, el('small', `before ${beforeInWords(closures, checkpoint)}`)),
    signatures(checkpoint, current),
    questions(
      'questions',
      checkpoint.steps,
      (id) => current?.checkpoints[checkpoint.id]?.answers[id],
      (id) => current?.checkpoints[checkpoint.id]?.computed[id],
    ),
  );

function beforeInWords(closures: Closures, { before }: Checkpoint): string {
  const closure = closures.find(({ id }) => id === before);
  if (closure) return `closing: ${closure.name.toLowerCase()}`;
  return before === 'leaving' ? 'the patient is woken' : before;
}

function signatures({ id, leader, present }: Checkpoint, current: Case | undefined): Element {
  const state = current?.checkpoints[id];
  return el(
    'div.signatures',
    field(`Led by the ${leader}`, 'middle', state?.leader),
    field('There', 'long', present.join(', ')),
    field('Begun', 'short', state?.beganAt.slice(11, 16)),
    field('Finished', 'short', state?.finishedAt?.slice(11, 16)),
  );
}

/** Questions in their order, with the answers to tick; what was answered already is ticked, with its time. */
export function questions(
  name: string,
  steps: readonly Step[],
  answerOf: (id: string) => Answer | undefined,
  computedOf: (id: string) => string | undefined,
): Element {
  return table(
    name,
    ['', 'Who', 'Question', 'Answer', 'By, at'],
    steps.map((step, index) => {
      const answer = answerOf(step.id);
      const computed = computedOf(step.id);
      return row(
        cell(String(index + 1)),
        cell(step.who),
        cell(...asked(steps, step)),
        cell(...answers(step, answer, computed)),
        cell(answer ? `${whoOf(answer)}, ${answer.at.slice(11, 16)}` : ''),
      );
    }),
  );
}

function asked(steps: readonly Step[], { ask, when }: Step): readonly (Element | string)[] {
  const only = whenInWords(steps, when);
  return only === '' ? [ask] : [el('small.only', only), ask];
}

function whenInWords(steps: readonly Step[], when: When | undefined): string {
  if (when === undefined) return '';
  const before = steps.find(({ id }) => id === when.step);
  const parts = [
    ...(when.variant ? [`with ${when.variant.join(' or ').replaceAll('-', ' ')}`] : []),
    ...(before ? [`after “${before.short}”`] : []),
    ...(when.is ? [`answered ${when.is.join(' or ').replaceAll('-', ' ')}`] : []),
    ...(when.flagged === undefined ? [] : [when.flagged ? 'over the limit' : 'within the limit']),
  ];
  return `Only ${parts.join(', ')}: `;
}

const whoOf = (answer: Answer): string => (answer.kind === 'open' ? answer.name : answer.by);

function answers(
  step: Step,
  answer: Answer | undefined,
  computed: string | undefined,
): readonly (Element | string)[] {
  const { answering, stopOn } = step;
  const given = answer?.kind === 'given' ? answer.value : undefined;
  const stops = (id: string, name: string): string =>
    stopOn.includes(id) ? `${name} – stop` : name;
  const rest = [
    ...(step.mayNotApply
      ? [choice('does not apply, because', answer?.kind === 'not-applicable')]
      : []),
    ...(answer?.kind === 'not-applicable' ? [answer.reason] : []),
    ...(answer?.kind === 'open' ? [`Left open: ${answer.reason}`] : []),
  ];
  switch (answering.kind) {
    case 'confirm':
      return [
        choice(stops('yes', 'yes'), given === 'yes'),
        choice(stops('no', 'no'), given === 'no'),
        ...rest,
      ];
    case 'choice':
      return [
        ...answering.options.map(({ id, name }) => choice(stops(id, name), given === id)),
        ...rest,
      ];
    case 'number':
      return [blank('short', given), answering.unit ?? '', ...rest];
    case 'time':
      return [blank('short', given?.slice(11, 16)), 'o’clock', ...rest];
    case 'text':
      return [blank('long', given), ...rest];
    case 'computed':
      return [
        choice(computedWords[answering.from], computed !== undefined),
        ...(computed === undefined ? [] : [el('small', computed)]),
        ...rest,
      ];
  }
}

/** What the tablet would answer itself, to be looked up on this paper. */
const computedWords = {
  'first-count': 'first count agreed by two, see the count sheet',
  counts: 'last count agreed in every line, see the count sheet',
  specimens: 'every label read back, see specimens',
  prophylaxis: 'started in its time before incision, at',
  left: 'all that stays is written down, see what stays',
} as const;
