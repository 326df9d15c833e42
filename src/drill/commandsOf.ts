import { checkpointOf, closureOf, fitsVariant, isAsked } from '#engine/applies.ts';
import { unreachable } from '#engine/assert.ts';
import type { Command } from '#engine/case/events.ts';
import { usualAnswer } from '#engine/case/usualAnswer.ts';
import type { AnswerStep } from '#engine/checkpoints/events.ts';
import type { LookAnswer } from '#engine/closures/events.ts';
import { usualFound } from '#engine/counts/usualFound.ts';
import { type MomentId, momentIds, type Step } from '#engine/sheet.ts';
import type { Label, StepSpecimen } from '#engine/specimens/events.ts';
import { labelOf } from '#engine/specimens/labelOf.ts';
import type { Case } from '#engine/state.ts';
import type { AnswerSaid, AnswersByStep, Asked, FoundSaid, LabelSaid } from './asked.ts';

/** What a step of a drill asks of the engine, one command after another; each is told the case as it then is. */
export type Commands = Generator<Command, void, Case>;

type AskedOf<Kind extends Asked['kind']> = Extract<Asked, { readonly kind: Kind }>;

/** The commands of one step. What is `usual` is completed from the case as it is when the command is made. */
export function* commandsOf(asked: Asked, current: Case, now: string): Commands {
  switch (asked.kind) {
    case 'command':
      yield asked.command;
      return;
    case 'count':
      return yield* countOf(asked, current);
    case 'checkpoint':
      return yield* checkpointFrom(asked, current, now);
    case 'look':
      yield lookOf(asked, current, now);
      return;
    case 'recount':
      yield recountOf(asked, current);
      return;
    case 'label':
      yield labelled(asked.command, asked.label, current);
      return;
    case 'wait':
      return;
    default:
      unreachable(asked);
  }
}

function* countOf(asked: AskedOf<'count'>, before: Case): Commands {
  const moment = momentFrom(asked.moment);
  const { scrub, circulator, by } = asked;
  const counting = yield {
    type: 'beginCount',
    moment,
    ...(scrub === undefined ? {} : { scrub }),
    ...(circulator === undefined ? {} : { circulator }),
  };
  const lines = counting.counts.running?.lines ?? [];
  const others = Object.keys(asked.found).filter((line) => !lines.includes(line));
  for (const line of [...lines, ...others])
    yield { type: 'enter', line, ...seen(before, moment, line, asked.found[line]) };
  yield by === undefined ? { type: 'agree' } : { type: 'agree', by };
}

/** A word that is no moment goes to the engine as it is, which refuses it. */
function momentFrom(word: string): MomentId {
  return momentIds.find((known) => known === word) ?? (word as MomentId); // a parser
}

type Seen = { readonly field?: number; readonly off?: number; readonly packs?: readonly number[] };

/** What a drill says of a line over what a true count would see. Numbers are the engine's to check. */
function seen(
  current: Case,
  moment: MomentId | 'recount',
  line: string,
  said: FoundSaid | undefined,
): Seen {
  const usual = current.lines.has(line) ? usualFound(current, moment, line) : { field: 0, off: 0 };
  if (said === undefined || said === 'usual') return usual;
  const { field = usual.field, off = usual.off, packs } = said;
  return (packs === undefined ? { field, off } : { off, packs }) as Seen; // a parser
}

function recountOf(asked: AskedOf<'recount'>, current: Case): Command {
  const lines = Object.fromEntries(
    Object.entries(asked.lines).map(([line, said]) => [line, seen(current, 'recount', line, said)]),
  );
  const { by } = asked;
  return by === undefined ? { type: 'recount', lines } : { type: 'recount', lines, by };
}

function* checkpointFrom(asked: AskedOf<'checkpoint'>, before: Case, now: string): Commands {
  const { id, answers, leader, present } = asked;
  let current = before;
  const state = current.checkpoints[id];
  if (!state?.begun || state.finishedAt !== undefined)
    current = yield {
      type: 'beginCheckpoint',
      id,
      ...(leader === undefined ? {} : { leader }),
      ...(present === undefined ? {} : { present }),
    };
  const steps = checkpointOf(current, id)?.steps ?? [];
  const given = new Set<string>();
  for (const step of steps) {
    if (!isAsked(current, id, steps, step)) continue;
    given.add(step.id);
    const command = answerTo(id, step.id, answers[step.id] ?? usualOf(current, step, now));
    if (command) current = yield command;
  }
  for (const [step, said] of Object.entries(answers)) {
    const command = given.has(step) ? undefined : answerTo(id, step, said);
    if (command) current = yield command;
  }
  yield { type: 'finishCheckpoint', id };
}

/** A drill that records no dose is of an operation without one: that step then does not apply. */
function usualOf(current: Case, step: Step, now: string): AnswerSaid {
  const value = usualAnswer(step, now);
  if (value !== undefined) return { kind: 'value', value };
  const { answering, mayNotApply } = step;
  const isDose = answering.kind === 'computed' && answering.from === 'prophylaxis';
  if (!isDose || !mayNotApply || current.doses.length > 0) return { kind: 'none' };
  return { kind: 'notApplicable', reason: 'No dose in this drill.' };
}

function answerTo(checkpoint: string, step: string, said: AnswerSaid): AnswerStep | undefined {
  const to = { type: 'answer', checkpoint, step } as const;
  switch (said.kind) {
    case 'value':
      return { ...to, value: said.value };
    case 'notApplicable':
      return { ...to, notApplicable: said.reason };
    case 'open':
      return { ...to, open: { name: said.name, reason: said.reason } };
    case 'none':
      return undefined;
    default:
      return unreachable(said);
  }
}

/** Every step of the last look that is asked, given the answers before it, and whatever else was said. */
function lookOf(asked: AskedOf<'look'>, current: Case, now: string): Command {
  const said: Record<string, AnswerSaid> = {};
  for (const step of closureOf(current, asked.closure)?.look ?? []) {
    if (isLookAsked(current, step, said))
      said[step.id] = asked.answers[step.id] ?? usualOf(current, step, now);
  }
  const answers: Record<string, LookAnswer> = {};
  for (const [step, answer] of Object.entries({ ...said, ...asked.answers })) {
    const given = lookAnswer(answer);
    if (given !== undefined) answers[step] = given;
  }
  return { type: 'look', closure: asked.closure, answers };
}

function isLookAsked(current: Case, { when }: Step, said: AnswersByStep): boolean {
  if (!fitsVariant(current, when)) return false;
  if (!when?.step) return true;
  const answer = said[when.step];
  return answer?.kind === 'value' && (when.is?.includes(String(answer.value)) ?? true);
}

function lookAnswer(said: AnswerSaid): LookAnswer | undefined {
  switch (said.kind) {
    case 'value':
      return said.value;
    case 'notApplicable':
      return { notApplicable: said.reason };
    case 'open':
      return { open: { name: said.name, reason: said.reason } };
    case 'none':
      return undefined;
    default:
      return unreachable(said);
  }
}

/** The label that the specimen must carry, with what the drill says otherwise. */
function labelled(command: StepSpecimen, said: LabelSaid, current: Case): StepSpecimen {
  const specimen = current.specimens[command.id];
  const usual: Label = specimen ? labelOf(current, specimen) : {};
  const label = Object.fromEntries(
    Object.entries({ ...usual, ...said }).filter(([, words]) => words !== null),
  );
  return { ...command, label };
}
