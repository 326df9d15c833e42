import { decide } from '#engine/case/decide.ts';
import type { CaseEvent, Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import type { Context, Warning } from '#engine/decision.ts';
import { personFrom } from '#engine/people.ts';
import { isRecorded } from '#engine/recordedIds.ts';
import type { Refusal } from '#engine/refusals.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { checkExpectation, type Differences } from './checkExpectation.ts';
import { atTimeOfDay, isTimeOfDay, minutesLater } from './clock.ts';
import { commandsOf } from './commandsOf.ts';
import type { Drill, DrillStep } from './drill.ts';
import type { Path } from './problems.ts';

/** What a drill showed: it passed, or the first step that did not go as it says. */
export type DrillOutcome = {
  readonly title: string;
  readonly failures: readonly { readonly path: Path; readonly sentence: string }[];
  /** The case as it then was; undefined where it was not opened. */
  readonly current: Case | undefined;
  readonly events: readonly CaseEvent[];
  /** Every command that was accepted, by whom, and the index of its step, for whoever plays it again. */
  readonly commands: readonly DrillCommand[];
};

export type DrillCommand = {
  readonly step: number;
  readonly command: Command;
  readonly by: string;
};

/** How far a drill is. */
type Run = {
  readonly current: Case;
  readonly events: readonly CaseEvent[];
  readonly commands: readonly DrillCommand[];
  readonly now: string;
  readonly differences: Differences;
};

/**
 * Runs a drill on a sheet, up to the first step that does not go as it says.
 *
 * Throws: Fault, when the engine has a bug.
 */
export function runDrill(drill: Drill, sheet: Sheet): DrillOutcome {
  const { title, patient, team, variants, start } = drill;
  const command = { type: 'open', caseId: 'drill', sheet, patient, team, variants } as const;
  const opened = openCase(command, { at: start, by: team.circulator, id: 'open' });
  const failed = (path: Path, sentence: string, run?: Run): DrillOutcome => ({
    title,
    failures: [{ path, sentence }],
    current: run?.current,
    events: run?.events ?? [],
    commands: run?.commands ?? [],
  });
  if (!opened.ok) {
    if (opened.refusal.code === drill.refused)
      return { title, failures: [], current: undefined, events: [], commands: [] };
    return failed([], `opening the case ${refusedWords(opened.refusal, drill.refused)}`);
  }
  if (drill.refused !== undefined)
    return failed(['refused'], `the case was opened, where ${drill.refused} was expected`);

  const current = opened.events.reduce<Case | undefined>(evolve, undefined);
  if (!current) return failed([], 'the case was not opened');
  let run: Run = { current, events: opened.events, commands: [], now: start, differences: {} };
  for (const [index, step] of drill.steps.entries()) {
    const next = stepped(run, step, index);
    if (typeof next === 'string') return failed(step.path, next, run);
    run = next;
  }
  return {
    title,
    failures: [],
    current: run.current,
    events: run.events,
    commands: run.commands,
  };
}

/** The run after a step, or a sentence of what did not go as the step says. */
function stepped(before: Run, step: DrillStep, index: number): Run | string {
  const run = { ...before, now: clockAt(before.now, step) };
  const made = performed(run, step, `step-${index + 1}`);
  const wrong = wrongAnswer(step, made);
  if (wrong !== undefined) return wrong;
  const next = made.ok ? after(run, made, index) : run;
  if (!step.expect) return next;
  const failures = checkExpectation(next.current, next.differences, step.expect);
  return failures.length === 0 ? next : failures.join('; ');
}

function clockAt(now: string, { at, asked }: DrillStep): string {
  const set = at === undefined ? now : isTimeOfDay(at) ? atTimeOfDay(now, at) : at;
  return asked?.kind === 'wait' ? minutesLater(set, asked.minutes) : set;
}

type Made =
  | {
      readonly ok: true;
      readonly current: Case;
      readonly events: readonly CaseEvent[];
      readonly commands: readonly Omit<DrillCommand, 'step'>[];
      readonly warnings: readonly Warning[];
    }
  | { readonly ok: false; readonly refusal: Refusal; readonly command: Command };

/** Makes every command of a step; when one is refused, none of them is made. */
function performed(run: Run, step: DrillStep, stepId: string): Made {
  const id = step.id ?? stepId;
  const nothing: Made = {
    ok: true,
    current: run.current,
    events: [],
    commands: [],
    warnings: [],
  };
  if (!step.asked || isRecorded(run.current, id)) return nothing;
  const commands = commandsOf(step.asked, run.current, run.now);
  let { current } = run;
  const events: CaseEvent[] = [];
  const warnings: Warning[] = [];
  const accepted: Omit<DrillCommand, 'step'>[] = [];
  let next = commands.next(current);
  for (let part = 1; !next.done; part++) {
    const context: Context = {
      at: run.now,
      by: personFrom(current.team, step.actor ?? 'circulator'),
      id: part === 1 ? id : `${id}.${part}`,
    };
    const decision = decide(current, next.value, context);
    if (!decision.ok) return { ok: false, refusal: decision.refusal, command: next.value };
    current = decision.events.reduce(evolve, current);
    events.push(...decision.events);
    warnings.push(...decision.warnings);
    accepted.push({ command: next.value, by: context.by });
    next = commands.next(current);
  }
  return { ok: true, current, events, commands: accepted, warnings };
}

/** What is wrong with how a command was answered; undefined when it is as the step says. */
function wrongAnswer(step: DrillStep, made: Made): string | undefined {
  if (!made.ok) {
    if (made.refusal.code === step.refused) return undefined;
    const part =
      made.command.type === step.word ? step.word : `${step.word} (${made.command.type})`;
    return `${part} ${refusedWords(made.refusal, step.refused)}`;
  }
  if (step.refused !== undefined)
    return `${step.word} was accepted, where ${step.refused} was expected`;
  const said = made.warnings.map((warning) => warning.code);
  const missing = step.warned.filter((code) => !said.some((known) => known === code));
  return missing.length === 0
    ? undefined
    : `${step.word} was not warned of: ${missing.join(', ')} (said: ${said.join(', ') || 'nothing'})`;
}

function refusedWords(refusal: Refusal, expected: string | undefined): string {
  const detail = refusal.detail === undefined ? '' : ` (${refusal.detail})`;
  const is = `was refused with ${refusal.code}${detail}: ${refusal.sentence}`;
  return expected === undefined ? is : `${is} Expected was ${expected}.`;
}

function after(run: Run, made: Extract<Made, { readonly ok: true }>, step: number): Run {
  return {
    current: made.current,
    events: [...run.events, ...made.events],
    commands: [...run.commands, ...made.commands.map((one) => ({ ...one, step }))],
    now: run.now,
    differences: made.events.reduce(differencesAfter, run.differences),
  };
}

/** A count and a recount say it anew; a declaration and an amendment change what is expected. */
function differencesAfter(before: Differences, event: CaseEvent): Differences {
  switch (event.type) {
    case 'countAgreed':
    case 'recounted': {
      const isBaseline =
        event.type === 'countAgreed' && (event.moment === 'first' || event.moment === 'added');
      const counted = event.outcomes.map(({ line, found, expected }) => [
        line,
        isBaseline ? 0 : found.field + found.off - expected,
      ]);
      return { ...before, ...Object.fromEntries(counted) };
    }
    case 'declared':
      return { ...before, [event.line]: (before[event.line] ?? 0) + event.n };
    case 'amended':
      return { ...before, [event.line]: (before[event.line] ?? 0) - event.n };
    default:
      return before;
  }
}
