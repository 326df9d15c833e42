import type {
  BundleEntry,
  Questionnaire,
  QuestionnaireItem,
  QuestionnaireResponse,
  QuestionnaireResponseItem,
  QuestionnaireResponseItemAnswer,
} from 'fhir/r4';
import { checkpointsOf } from '#engine/applies.ts';
import { unreachable } from '#engine/assert.ts';
import type { Checkpoint, Step } from '#engine/sheet.ts';
import type { Answer, CheckpointState } from '#engine/state.ts';
import { entry, instant, type Making, said, some } from './parts.ts';
import { extensions } from './systems.ts';

/** For each checkpoint that was begun: what it asks, and what was answered. */
export function checkpointEntries(making: Making): readonly BundleEntry[] {
  return checkpointsOf(making.current).flatMap((checkpoint) => {
    const state = making.current.checkpoints[checkpoint.id];
    if (!state) return [];
    return [
      entry(making.urn('Questionnaire', checkpoint.id), questionnaireOf(making, checkpoint)),
      entry(
        making.urn('QuestionnaireResponse', checkpoint.id),
        responseOf(making, checkpoint, state),
      ),
    ];
  });
}

function questionnaireOf(making: Making, { id, name, steps }: Checkpoint): Questionnaire {
  return {
    resourceType: 'Questionnaire',
    url: making.urn('Questionnaire', id),
    version: making.current.sheet.version,
    status: 'active',
    title: said(name),
    subjectType: ['Patient'],
    item: some(steps.map(itemOf)),
  };
}

const types = {
  confirm: 'boolean',
  choice: 'choice',
  number: 'decimal',
  time: 'dateTime',
  text: 'string',
  computed: 'string',
} as const;

function itemOf({ id, ask, answering }: Step): QuestionnaireItem {
  const options =
    answering.kind === 'choice'
      ? answering.options.map((one) => ({
          valueCoding: { code: one.id, display: said(one.name) },
        }))
      : [];
  return {
    linkId: id,
    text: said(ask),
    type: types[answering.kind],
    ...(answering.kind === 'computed' ? { readOnly: true } : {}),
    answerOption: some(options),
  };
}

function responseOf(
  making: Making,
  { id, steps }: Checkpoint,
  state: CheckpointState,
): QuestionnaireResponse {
  const items = steps.flatMap((step) => responseItem(step, state) ?? []);
  const isDone = state.finishedAt !== undefined;
  return {
    resourceType: 'QuestionnaireResponse',
    questionnaire: `${making.urn('Questionnaire', id)}|${making.current.sheet.version}`,
    partOf: [making.procedure],
    status: isDone ? (state.reopened.length > 0 ? 'amended' : 'completed') : 'in-progress',
    subject: making.patient,
    encounter: making.encounter,
    authored: instant(state.finishedAt ?? state.beganAt),
    author: making.person(state.leader),
    item: some(items),
  };
}

function responseItem(step: Step, state: CheckpointState): QuestionnaireResponseItem | undefined {
  const about = { linkId: step.id, text: said(step.ask) };
  const words = state.computed[step.id];
  if (words !== undefined) return { ...about, answer: [{ valueString: said(words) }] };
  const answer = state.answers[step.id];
  if (!answer) return undefined;
  if (answer.kind === 'given') return { ...about, answer: [answerOf(step, answer.value)] };
  return { ...about, extension: absentBecause(answer) };
}

/** Why there is no answer, in the two standard ways of saying so: a code, and the words that were said. */
const absentBecause = (answer: Exclude<Answer, { kind: 'given' }>) => [
  {
    url: extensions.absent,
    valueCode: answer.kind === 'not-applicable' ? 'not-applicable' : 'temp-unknown',
  },
  {
    url: extensions.words,
    valueString: said(
      answer.kind === 'open' ? `Left open by ${answer.name}: ${answer.reason}` : answer.reason,
    ),
  },
];

function answerOf({ answering }: Step, value: string): QuestionnaireResponseItemAnswer {
  switch (answering.kind) {
    case 'confirm':
      return { valueBoolean: value === 'yes' };
    case 'choice': {
      const option = answering.options.find((one) => one.id === value);
      return { valueCoding: { code: value, display: said(option?.name ?? value) } };
    }
    case 'number':
      return { valueDecimal: Number(value) };
    case 'time':
      return { valueDateTime: instant(value) };
    case 'text':
    case 'computed':
      return { valueString: said(value) };
    default:
      return unreachable(answering);
  }
}
