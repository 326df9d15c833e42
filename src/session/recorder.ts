import { Fault } from '#engine/assert.ts';
import type { CaseEvent, Command, OpenCase } from '#engine/case/events.ts';
import type { Context, Decision, Signature } from '#engine/decision.ts';
import { tabletName } from '#engine/people.ts';
import type { Refusal } from '#engine/refusals.ts';
import type { Case } from '#engine/state.ts';
import { say, sayOf } from '#words/say.ts';
import { createClockWatch } from './clockWatch.ts';
import { type Core, isFromPaper, saveFirst, stillSaving, timeFirst, whyNot } from './core.ts';
import { notWhole } from './notWhole.ts';
import type { Failure } from './ports.ts';
import type { SessionState } from './state.ts';

/** How a command ended: recorded, refused by the rules, or not saved by the device. */
export type Outcome =
  | { readonly ok: true }
  | { readonly ok: false; readonly refusal: Refusal }
  | { readonly ok: false; readonly failure: Failure };

type Signatures = readonly Signature[];

export type Recorder = {
  readonly send: (command: Command, by?: string, signed?: Signatures) => Promise<Outcome>;
  readonly canSend: (command: Command) => boolean;
  /** Why the rules would not take it now; undefined where they would, or are not loaded yet. */
  readonly refusalOf: (command: Command) => Refusal | undefined;
  /** Opens a new case; answers with its id once it is on disk. */
  readonly begin: (command: Omit<OpenCase, 'type'>, signed?: Signatures) => Promise<Outcome>;
  /** Offers the entry that could not be saved again. */
  readonly retry: () => Promise<Outcome>;
  /** Gives up the entry that could not be saved. It was never acknowledged. */
  readonly forget: () => void;
};

/** An entry that is decided and on its way to disk. */
type Pending = {
  readonly caseId: string;
  readonly before: Case | undefined;
  readonly decision: Decision<CaseEvent>;
  readonly context: Context;
};

const unnamed = tabletName;

/** A browser that has thrown its storage away under an open page does not take another entry from it. */
const stillNotSaved = () =>
  say`Make room on this tablet and save again. If it stays so, take the case out as a file from its record: it is
    whole up to the entry before, and can be brought in after a new start.`;

/** Within the second in which the user has to be told. Units: milliseconds. */
const lateMs = 900;

/** Reads a case again that another window wrote to. */
type Reload = (caseId: string) => Promise<void>;

/**
 * Records commands, one at a time: decided, computed, written, and only then shown.
 *
 * Fails: not-saved. The case is then as it was, and the entry is offered again by `retry`.
 */
export function createRecorder(core: Core, reload: Reload): Recorder {
  const { ports, state, change, queued } = core;
  const writer = createWriter(core, reload);
  const { record } = writer;
  const watch = createWatch(core);
  const enter = createEntering(core, record, watch.say);

  async function guarded(job: () => Promise<Outcome>): Promise<Outcome> {
    try {
      return await job();
    } catch (error) {
      return stopOn(core, error);
    }
  }

  /** One after another, and said when it takes long: a tap may wait behind something else. */
  const inTurn = (job: () => Promise<Outcome>): Promise<Outcome> =>
    watch.inTime(queued(() => guarded(job)));

  const contextBy = (by = unnamed, signed: Signatures = []): Context => ({
    at: ports.clock.now(),
    by,
    id: ports.ids.next(),
    ...(signed.length > 0 ? { signed } : {}),
    ...paperOf(state()),
  });

  return {
    send: (command, by, signed) => {
      const context = contextBy(by, signed);
      return inTurn(() => enter(command, context));
    },
    canSend: (command) => {
      const { current } = state();
      if (!current || state().notSaved !== undefined || whyNot(state(), current)) return false;
      return wouldBe(core, command)?.ok === true;
    },
    refusalOf: (command) => {
      const decision = wouldBe(core, command);
      return decision?.ok === false ? decision.refusal : undefined;
    },
    begin: (command, signed) => {
      const context = contextBy(undefined, signed);
      return inTurn(async () => {
        if (whyNot(state(), undefined) === saveFirst) return notNow(core, sayOf(saveFirst));
        const rules = await core.readRules();
        if (!rules) return notNow(core, sayOf(notWhole));
        change({ current: undefined, last: undefined, head: '', epoch: 1, ...nothingWrong });
        const decision = rules.openCase({ type: 'open', ...command }, context);
        return record({ caseId: command.caseId, before: undefined, decision, context });
      });
    },
    retry: () =>
      inTurn(async () => {
        const outcome = await writer.retry();
        if (!outcome.ok && 'failure' in outcome && outcome.failure.code === 'not-saved')
          change({ notice: { kind: 'failed', sentence: stillNotSaved() } });
        return outcome;
      }),
    forget: () => {
      writer.forget();
      watch.say();
    },
  };
}

/** What stands on an entry that is typed in from paper. */
function paperOf(state: SessionState): Pick<Context, 'fromPaper' | 'paperAt'> {
  if (!isFromPaper(state)) return {};
  const { paperTime } = state;
  return paperTime === undefined || paperTime === 'none'
    ? { fromPaper: true }
    : { fromPaper: true, paperAt: paperTime };
}

/** Enters one command after another on the open case. */
function createEntering(
  core: Core,
  record: (pending: Pending) => Promise<Outcome>,
  sayLate: () => void,
) {
  const { ports, state } = core;
  const clock = createClockWatch(ports.clock);

  async function enterOne(command: Command, context: Context): Promise<Outcome> {
    const { current } = state();
    const sentence = whyNot(state(), current);
    if (!current || sentence) return notNow(core, sentence ?? '');
    const isUntimed = context.fromPaper === true && state().paperTime === undefined;
    if (isUntimed && command.type !== 'correct') return notNow(core, timeFirst);
    const rules = core.rules() ?? (await core.readRules());
    if (!rules) return notNow(core, sayOf(notWhole));
    const decision = rules.decide(current, command, context);
    return record({ caseId: current.id, before: current, decision, context });
  }

  /** What became of the clock stands before the entry; not before a take-back, which is of the last entry. */
  async function enterWithClock(command: Command, context: Context): Promise<Outcome> {
    const { current } = state();
    const jump = current && clock.jumpBefore(context.at, current.lastAt);
    if (jump && command.type !== 'correct' && !whyNot(state(), current)) {
      const own = { by: unnamed, id: ports.ids.next() };
      const noted = await enterOne({ type: 'note', text: jump }, { ...own, at: context.at });
      if (!noted.ok) return noted;
      sayLate(); // The note is saved; what was tapped is not yet.
    }
    const outcome = await enterOne(command, context);
    if (outcome.ok && command.type !== 'correct') clock.entered(context.at);
    return outcome;
  }

  return enterWithClock;
}

/** Says that an entry is not saved yet while any of those on their way is late. */
function createWatch({ state, change }: Core) {
  const late = new Set<object>();

  function say(): void {
    const { notSaved } = state();
    if (late.size > 0 && notSaved === undefined) change({ notSaved: stillSaving });
    if (late.size === 0 && notSaved === stillSaving) change({ notSaved: undefined });
  }

  async function inTime(answer: Promise<Outcome>): Promise<Outcome> {
    const one = {};
    const timer = setTimeout(() => {
      late.add(one);
      say();
    }, lateMs);
    try {
      return await answer;
    } finally {
      clearTimeout(timer);
      late.delete(one);
      say();
    }
  }

  return { inTime, say };
}

const nothingWrong = { damaged: undefined, follows: false } as const;

/** What the rules would say to a command now; undefined where no case is open or they are not loaded yet. */
function wouldBe({ ports, state, rules }: Core, command: Command): Decision<CaseEvent> | undefined {
  const { current } = state();
  const context = { at: ports.clock.now(), by: unnamed, id: '' };
  return current && rules()?.decide(current, command, context);
}

/** Writes what was decided, and keeps what could not be written to offer it again. */
type Writer = {
  readonly record: (pending: Pending) => Promise<Outcome>;
  readonly retry: () => Promise<Outcome>;
  readonly forget: () => void;
};

/** Another window has written: what was decided here was decided on a case that is no more. */
const takenOver = ['other-writer', 'stale-writer'];

function createWriter(core: Core, reload: Reload): Writer {
  const { ports, state, change } = core;
  let unsaved: Pending | undefined;

  async function record(pending: Pending): Promise<Outcome> {
    const { caseId, before, decision, context } = pending;
    if (!decision.ok) {
      change({ notice: { kind: 'refused', refusal: decision.refusal } });
      return decision;
    }
    if (decision.events.length === 0) return { ok: true };
    const rules = await core.readRules();
    if (!rules) return notNow(core, sayOf(notWhole));
    // Computed before the write: a fault in evolve must not leave an event that cannot be replayed.
    const next = decision.events.reduce<Case | undefined>(rules.evolve, before);
    if (!before) change({ isOpening: true });
    const draft = { ...context, epoch: state().epoch, app: ports.app, events: decision.events };
    const saved = await ports.journal.append(caseId, draft);
    if (!saved.ok && takenOver.includes(saved.failure.code)) {
      unsaved = undefined;
      change({ isOpening: false, notSaved: undefined });
      await reload(caseId);
      const sentence = say`Another window has written to this case. Look, then enter it again.`;
      change({ notice: { kind: 'failed', sentence } });
      return saved;
    }
    if (!saved.ok) {
      unsaved = pending;
      change({ isOpening: false, notSaved: saved.failure.sentence });
      return saved;
    }
    unsaved = undefined;
    publish(core, next, { decision, head: saved.envelope.hash, at: context.at });
    ports.writer.wrote(caseId);
    return { ok: true };
  }

  return {
    record,
    retry: async () => (unsaved ? record(unsaved) : { ok: true }),
    forget: () => {
      unsaved = undefined;
      change({ notSaved: undefined });
    },
  };
}

type Written = {
  readonly decision: Extract<Decision<CaseEvent>, { readonly ok: true }>;
  readonly head: string;
  readonly at: string;
};

/** Shows what is now on disk. */
function publish(core: Core, next: Case | undefined, { decision, head, at }: Written): void {
  const { last } = core.state();
  const sentences = decision.warnings.map((warning) => warning.sentence);
  core.change({
    current: next,
    last: { seq: (last?.seq ?? 0) + 1, at, events: decision.events },
    head,
    isOpening: false,
    savedAt: at,
    notSaved: undefined,
    notice: sentences.length > 0 ? { kind: 'said', sentences } : undefined,
  });
}

function notNow(core: Core, why: string): Outcome {
  const sentence = sayOf(why);
  core.change({ notice: { kind: 'failed', sentence } });
  return { ok: false, failure: { code: 'not-now', sentence } };
}

/** A bug of ours: nothing more is recorded until restart, and the record is kept. */
function stopOn(core: Core, error: unknown): Outcome {
  const sentence = error instanceof Error ? error.message : say`Something unexpected happened.`;
  if (!(error instanceof Fault)) console.error(error);
  core.change({ stage: 'fault', fault: sentence });
  return { ok: false, failure: { code: 'fault', sentence } };
}
