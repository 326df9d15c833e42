import type { Checkpoint, Sheet, Step, When } from '#engine/sheet.ts';
import type { Answer, Case } from '#engine/state.ts';
import { say, sayInside, sayOf } from '#words/say.ts';
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
  const page = (one: Checkpoint): Element => checkpointPage(sheet, one, current);
  return {
    early: sheet.checkpoints.filter(isEarly).map(page),
    late: sheet.checkpoints.filter((one) => !isEarly(one)).map(page),
  };
}

const checkpointPage = (sheet: Sheet, checkpoint: Checkpoint, current: Case | undefined): Element =>
  el(
    'section.checkpoint',
    el('h2', checkpoint.name, el('small', beforeInWords(sheet, checkpoint))),
    signatures(checkpoint, current),
    questions(
      sheet,
      checkpoint.steps,
      (id) => current?.checkpoints[checkpoint.id]?.answers[id],
      (id) => current?.checkpoints[checkpoint.id]?.computed[id],
    ),
  );

function beforeInWords({ closures }: Sheet, { before }: Checkpoint): string {
  const closure = closures.find(({ id }) => id === before);
  if (closure) return say`before closing: ${sayInside(closure.name)}`;
  if (before === 'leaving') return say`before the patient is woken`;
  return before === 'incision' ? say`before incision` : say`before anaesthesia`;
}

function signatures({ id, leader, present }: Checkpoint, current: Case | undefined): Element {
  const state = current?.checkpoints[id];
  return el(
    'div.signatures',
    field(say`Led by the ${sayOf(leader)}`, 'middle', state?.leader),
    field(say`There`, 'long', present.map(sayOf).join(', ')),
    field(say`Begun`, 'short', state?.beganAt.slice(11, 16)),
    field(say`Finished`, 'short', state?.finishedAt?.slice(11, 16)),
  );
}

/** Questions in their order, with the answers to tick; what was answered already is ticked, with its time. */
export function questions(
  { variants }: Sheet,
  steps: readonly Step[],
  answerOf: (id: string) => Answer | undefined,
  computedOf: (id: string) => string | undefined,
): Element {
  return table(
    'questions',
    ['', say`Who`, say`Question`, say`Answer`, say`By, at`],
    steps.map((step, index) => {
      const answer = answerOf(step.id);
      const computed = computedOf(step.id);
      return row(
        cell(String(index + 1)),
        cell(sayOf(step.who)),
        cell(...asked(variants, steps, step)),
        cell(...answers(step, answer, computed)),
        cell(answer ? `${whoOf(answer)}, ${answer.at.slice(11, 16)}` : ''),
      );
    }),
  );
}

type Variants = Sheet['variants'];

function asked(
  variants: Variants,
  steps: readonly Step[],
  { ask, when }: Step,
): readonly (Element | string)[] {
  const only = whenInWords(variants, steps, when);
  return only === '' ? [ask] : [el('small.only', only), ask];
}

function whenInWords(variants: Variants, steps: readonly Step[], when: When | undefined): string {
  if (when === undefined) return '';
  const before = steps.find(({ id }) => id === when.step);
  const variantOf = (id: string) => variants.find((known) => known.id === id)?.name ?? id;
  const parts = [
    ...(when.variant ? [say`with ${when.variant.map(variantOf).join(say` or `)}`] : []),
    ...(before ? [say`after “${before.short}”`] : []),
    ...(when.is
      ? [say`answered ${when.is.map((id) => answerName(before, id)).join(say` or `)}`]
      : []),
    ...(when.flagged === undefined
      ? []
      : [when.flagged ? say`over the limit` : say`within the limit`]),
  ];
  return say`Only ${parts.join(', ')}: `;
}

/** An answer to a step, as it stands on the paper beside its box. */
function answerName(step: Step | undefined, id: string): string {
  const { answering } = step ?? {};
  if (answering?.kind === 'confirm') return id === 'yes' ? say`yes` : say`no`;
  if (answering?.kind !== 'choice') return id;
  return answering.options.find((option) => option.id === id)?.name ?? id;
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
    stopOn.includes(id) ? say`${name} – stop` : name;
  const rest = [
    ...(step.mayNotApply
      ? [choice(say`does not apply, because`, answer?.kind === 'not-applicable')]
      : []),
    ...(answer?.kind === 'not-applicable' ? [answer.reason] : []),
    ...(answer?.kind === 'open' ? [say`Left open: ${answer.reason}`] : []),
  ];
  switch (answering.kind) {
    case 'confirm':
      return [
        choice(stops('yes', say`yes`), given === 'yes'),
        choice(stops('no', say`no`), given === 'no'),
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
      return [blank('short', given?.slice(11, 16)), say`o’clock`, ...rest];
    case 'text':
      return [blank('long', given), ...rest];
    case 'computed':
      return [
        choice(computedWords()[answering.from], computed !== undefined),
        ...(computed === undefined ? [] : [el('small', computed)]),
        ...rest,
      ];
  }
}

/** What the tablet would answer itself, to be looked up on this paper. */
const computedWords = () =>
  ({
    'first-count': say`first count agreed by two, see the count sheet`,
    counts: say`last count agreed in every line, see the count sheet`,
    specimens: say`every label read back, see specimens`,
    prophylaxis: say`started in its time before incision, at`,
    left: say`all that stays is written down, see what stays`,
  }) as const;
