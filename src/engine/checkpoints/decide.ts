import { checkpointOf, checkpointsOf, isAsked, stepsOf } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { accept, type Context, type Decision, refuse, warned } from '../decision.ts';
import { transfer } from '../ledger.ts';
import type { CarriedIn } from '../moves/events.ts';
import { peopleFrom, personFrom, samePerson } from '../people.ts';
import { inSite } from '../places.ts';
import { isInstant, isMeasure, isText, minutesBetween } from '../quantities.ts';
import type { Checkpoint, Step } from '../sheet.ts';
import type { Answer, Case } from '../state.ts';
import { answerFrom } from './answerFrom.ts';
import { computedOf } from './computedOf.ts';
import type {
  AnswerStep,
  BeginCheckpoint,
  CheckpointsCommand,
  CheckpointsEvent,
  GiveDose,
} from './events.ts';
import { openSteps } from './openSteps.ts';
import { bestDose, doseWindow, medicineOf } from './prophylaxis.ts';

type Event = CheckpointsEvent | CarriedIn;
type Said = Pick<AnswerStep, 'value' | 'notApplicable' | 'open' | 'scanned'>;

/** Answers everything about checkpoints, the incision and doses. Sign out's own gate is asked in `case`. */
export function decideCheckpoints(
  current: Case,
  command: CheckpointsCommand,
  context: Context,
): Decision<Event> {
  switch (command.type) {
    case 'beginCheckpoint':
      return decideBegin(current, command);
    case 'answer':
      return decideAnswer(current, command, context);
    case 'finishCheckpoint':
      return decideFinish(current, command.id, context);
    case 'reopenCheckpoint': {
      const state = current.checkpoints[command.id];
      if (!checkpointOf(current, command.id)) return refuse('unknown-checkpoint', command.id);
      if (!isText(command.reason)) return refuse('reason-missing');
      if (state?.finishedAt === undefined) return refuse('checkpoint-open', command.id);
      const { id, reason } = command;
      return accept<Event>({ type: 'checkpointReopened', checkpoint: id, reason });
    }
    case 'incision':
      return decideIncision(current, context);
    case 'dose':
      return decideDose(current, command, context);
    default:
      return unreachable(command);
  }
}

/**
 * A checkpoint begins, led by somebody who is there.
 *
 * Refuses, first match wins: unknown-checkpoint, name-missing, already-done, checkpoint-finished,
 * checkpoint-order, leader-absent, people-absent.
 * Rules: K1, K2.
 */
function decideBegin(current: Case, command: BeginCheckpoint): Decision<Event> {
  const checkpoint = checkpointOf(current, command.id);
  if (!checkpoint) return refuse('unknown-checkpoint', command.id);
  const leader = personFrom(current.team, command.leader ?? checkpoint.leader);
  if (!isText(leader)) return refuse('name-missing', 'leader');
  const state = current.checkpoints[checkpoint.id];
  const isFinished = state?.finishedAt !== undefined;
  if (state?.begun && !isFinished) return refuse('already-done', checkpoint.name);
  if (isFinished) return refuse('checkpoint-finished', checkpoint.name);
  const earlier = earlierOpen(current, checkpoint);
  if (earlier) return refuse('checkpoint-order', earlier.name);
  const present = peopleFrom(current.team, command.present ?? checkpoint.present);
  if (!present.some((one) => samePerson(one, leader))) return refuse('leader-absent', leader);
  const absent = checkpoint.present.find(
    (role) => !present.some((one) => samePerson(one, current.team[role])),
  );
  if (absent) return refuse('people-absent', absent);
  return accept<Event>({ type: 'checkpointBegun', checkpoint: checkpoint.id, leader, present });
}

/** The first checkpoint that comes before this one and is not finished. */
function earlierOpen(current: Case, checkpoint: Checkpoint): Checkpoint | undefined {
  for (const known of checkpointsOf(current)) {
    if (known.id === checkpoint.id) return undefined;
    if (current.checkpoints[known.id]?.finishedAt === undefined) return known;
  }
  return undefined;
}

/**
 * One step is answered.
 *
 * Refuses, first match wins: unknown-checkpoint, unknown-step, reason-missing, name-missing,
 * checkpoint-finished, checkpoint-not-begun, is-computed, always-applies, not-an-answer.
 * Rules: K3, K4, K5, K6.
 */
function decideAnswer(current: Case, command: AnswerStep, context: Context): Decision<Event> {
  const checkpoint = checkpointOf(current, command.checkpoint);
  if (!checkpoint) return refuse('unknown-checkpoint', command.checkpoint);
  const step = checkpoint.steps.find((known) => known.id === command.step);
  if (!step || !isAsked(current, checkpoint.id, checkpoint.steps, step))
    return refuse('unknown-step', command.step);
  const wordless = wordMissing(command);
  if (wordless) return refuse(wordless, step.short);
  const state = current.checkpoints[checkpoint.id];
  if (state?.finishedAt !== undefined) return refuse('checkpoint-finished', checkpoint.name);
  if (!state?.begun) return refuse('checkpoint-not-begun', checkpoint.name);
  const answer = answerOf(current, step, command, context);
  if (!('kind' in answer)) return answer;
  const answered = { type: 'answered', checkpoint: checkpoint.id, step: step.id, answer } as const;
  const opened = openedBy(current, step, answer);
  return opened ? accept<Event>(answered, opened) : accept<Event>(answered);
}

/** What is not said where words are needed: why a step does not apply, or why and to whom it is left open. */
function wordMissing({ notApplicable, open }: Said): 'reason-missing' | 'name-missing' | undefined {
  if (notApplicable !== undefined) return isText(notApplicable) ? undefined : 'reason-missing';
  if (open === undefined) return undefined;
  if (!isText(open.reason)) return 'reason-missing';
  return isText(open.name) ? undefined : 'name-missing';
}

/** The answer that a command gives to a step of a checkpoint or of a last look, or why it is none. */
export function answerOf(
  current: Case,
  step: Step,
  command: Said,
  context: Context,
): Answer | ReturnType<typeof refuse> {
  const { at } = context;
  const wordless = wordMissing(command);
  if (wordless) return refuse(wordless, step.short);
  if (command.notApplicable !== undefined) {
    if (!step.mayNotApply) return refuse('always-applies', step.short);
    return { kind: 'not-applicable', reason: command.notApplicable, by: context.by, at };
  }
  if (command.open !== undefined) {
    const name = personFrom(current.team, command.open.name);
    return { kind: 'open', name, reason: command.open.reason, at };
  }
  if (step.answering.kind === 'computed') return refuse('is-computed', step.short);
  const value = answerFrom(step, command.value);
  if (value === undefined) return refuse('not-an-answer', step.short);
  const scanned = command.scanned === true ? ({ scanned: true } as const) : {};
  return { kind: 'given', value, by: context.by, at, ...scanned };
}

/** A number said at a checkpoint opens lines inside: what imaging shows must come out like anything else. */
function openedBy(current: Case, step: Step, answer: Answer): CarriedIn | undefined {
  if (step.answering.kind !== 'number' || !step.answering.opens || answer.kind !== 'given')
    return undefined;
  const { line, site, from } = step.answering.opens;
  const before = current.carried
    .filter((one) => one.line === line && one.site === site && one.from === from)
    .reduce((sum, one) => sum + one.n, 0);
  const n = Number(answer.value) - before;
  if (n <= 0 || !current.lines.has(line)) return undefined;
  const postings = transfer(line, 'supply', inSite(site), n);
  return { type: 'carriedIn', line, n, site, from, postings };
}

/**
 * A checkpoint is finished: every step that applies is answered, not applicable, or left open by name.
 *
 * Refuses, first match wins: unknown-checkpoint, checkpoint-finished, checkpoint-not-begun, answer-stops,
 * steps-open.
 * Rules: K3, K4, K7.
 */
function decideFinish(current: Case, id: string, context: Context): Decision<Event> {
  const checkpoint = checkpointOf(current, id);
  if (!checkpoint) return refuse('unknown-checkpoint', id);
  const state = current.checkpoints[id];
  if (state?.finishedAt !== undefined) return refuse('checkpoint-finished', checkpoint.name);
  if (!state?.begun) return refuse('checkpoint-not-begun', checkpoint.name);
  const steps = stepsOf(current, checkpoint);
  const stopping = steps.find((step) => isStopping(step, state.answers[step.id]));
  if (stopping) return refuse('answer-stops', stopping.short);
  const open = openSteps(current, checkpoint, context.at)[0];
  if (open) return refuse('steps-open', open.short);
  const computed = Object.fromEntries(
    steps.flatMap((step) => {
      if (step.answering.kind !== 'computed' || state.answers[step.id]) return [];
      return [[step.id, computedOf(current, step.answering.from, context.at).words]];
    }),
  );
  const spoken = steps.length * current.sheet.policy.secondsPerStep;
  // A paper has no seconds: how fast it was read aloud is not known.
  const fast = !context.fromPaper && minutesBetween(state.beganAt, context.at) * 60 < spoken;
  const decision = accept<Event>({ type: 'checkpointFinished', checkpoint: id, computed, fast });
  return fast ? warned(decision, 'answered-fast') : decision;
}

export function isStopping(step: Step, answer: Answer | undefined): boolean {
  return answer?.kind === 'given' && step.stopOn.includes(answer.value);
}

/** Refuses, first match wins: already-done, checkpoint-open. Rules: K1. */
function decideIncision(current: Case, context: Context): Decision<Event> {
  if (current.incisionAt !== undefined) return refuse('already-done');
  const open = checkpointsOf(current).find(
    (checkpoint) =>
      (checkpoint.before === 'anaesthesia' || checkpoint.before === 'incision') &&
      current.checkpoints[checkpoint.id]?.finishedAt === undefined,
  );
  if (open) return refuse('checkpoint-open', open.name);
  const decision = accept<Event>({ type: 'incised' });
  const best = bestDose(current, context.at);
  return best && best.window.state !== 'in-window' ? warned(decision, 'dose-late') : decision;
}

/** Units: milligrams. Refuses, first match wins: unknown-agent, not-a-number, not-a-time. Rules: K8. */
function decideDose(current: Case, command: GiveDose, context: Context): Decision<Event> {
  const agent = medicineOf(current, command.agent);
  if (!agent) return refuse('unknown-agent', command.agent);
  const { mg, at: givenAt = context.at } = command;
  if (mg !== undefined && !(isMeasure(mg) && mg > 0)) return refuse('not-a-number', 'mg');
  if (!isInstant(givenAt) || minutesBetween(givenAt, context.at) < 0)
    return refuse('not-a-time', 'at');
  const event = { type: 'dosed', agent: agent.id, givenAt } as const;
  const decision = accept<Event>(mg === undefined ? event : { ...event, mg });
  const act = current.incisionAt ?? context.at;
  const isFirst = current.doses.length === 0;
  const { state } = doseWindow({ agent: agent.id, mg, at: givenAt }, agent, act);
  return isFirst && state !== 'in-window' ? warned(decision, 'dose-late') : decision;
}
