import { Fault } from '#engine/assert.ts';
import { decide } from '#engine/case/decide.ts';
import type { CaseEvent, Command, OpenCase } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import type { Context, Decision } from '#engine/decision.ts';
import type { Refusal } from '#engine/refusals.ts';
import type { Case } from '#engine/state.ts';
import { createSessionStore, type SessionStore } from './createSessionStore.ts';
import type { Failure, Ports } from './ports.ts';
import { recover, summaryOf } from './recovery.ts';
import { type Route, routeFrom, routeText, startRoute, type View } from './route.ts';
import type { CaseSummary, SessionState } from './state.ts';

/** How a command ended: recorded, refused by the rules, or not saved by the device. */
export type Outcome =
  | { readonly ok: true }
  | { readonly ok: false; readonly refusal: Refusal }
  | { readonly ok: false; readonly failure: Failure };

/** The running program: the only place where engine and journal meet. */
export type Session = {
  readonly store: SessionStore;
  /** Starts up after anything: lists the cases and comes back to where the screen was. */
  readonly start: () => Promise<void>;
  /** Records a command of the open case. `by` is who gave it, where that is known. */
  readonly send: (command: Command, by?: string) => Promise<Outcome>;
  /** Whether the engine would accept a command now; what a button asks. */
  readonly canSend: (command: Command) => boolean;
  readonly begin: (command: Omit<OpenCase, 'type' | 'caseId'>) => Promise<Outcome>;
  readonly go: (route: Route) => Promise<void>;
  /** Opens another screen of the open case. */
  readonly show: (view: View) => void;
  readonly dismiss: () => void;
  readonly toggleLights: () => void;
  /** Offers the entry that could not be saved again. */
  readonly retry: () => Promise<Outcome>;
  readonly exportCase: (caseId: string) => Promise<string | undefined>;
  readonly importCase: (
    text: string,
  ) => Promise<{ readonly ok: boolean; readonly sentence: string }>;
};

const routeKey = 'lastlook-route';
const lightsKey = 'lastlook-lights';
const unnamed = 'theatre tablet';

/**
 * Makes the session over the ports of the world.
 *
 * Throws: nothing; a Fault of the engine stops recording until restart and is shown.
 */
export function createSession(ports: Ports): Session {
  const { memory } = ports;
  const lights = memory.read(lightsKey) === 'down' ? 'down' : 'up';
  const store = createSessionStore(startRoute, lights);
  const state = (): SessionState => store.getSnapshot().context;
  const change = (part: Partial<SessionState>) => store.trigger.changed({ change: part });
  let queue: Promise<unknown> = Promise.resolve();
  let unsaved: Pending | undefined;

  const queued = <T>(job: () => Promise<T>): Promise<T> => {
    const answer = queue.then(job);
    queue = answer.catch(() => undefined);
    return answer;
  };

  function stopOn(error: unknown): Outcome {
    const sentence = error instanceof Error ? error.message : 'Something unexpected happened.';
    if (!(error instanceof Fault)) console.error(error);
    change({ stage: 'fault', fault: sentence });
    return { ok: false, failure: { code: 'fault', sentence } };
  }

  /** One entry: decided, computed, written, and only then shown. */
  async function record(pending: Pending): Promise<Outcome> {
    const { caseId, before, decision, context } = pending;
    if (!decision.ok) {
      change({ notice: { kind: 'refused', refusal: decision.refusal } });
      return decision;
    }
    if (decision.events.length === 0) return { ok: true };
    // Computed before the write: a fault in evolve must not leave an event that cannot be replayed.
    const next = decision.events.reduce<Case | undefined>(evolve, before);
    change({ saving: state().saving + 1 });
    const saved = await ports.journal.append(caseId, {
      ...context,
      epoch: 1,
      app: ports.app,
      events: decision.events,
    });
    if (!saved.ok) {
      unsaved = pending;
      change({ saving: state().saving - 1, notSaved: saved.failure.sentence });
      return saved;
    }
    unsaved = undefined;
    publish(next, decision, saved.envelope.hash, context);
    ports.writer.wrote(caseId);
    return { ok: true };
  }

  function publish(
    next: Case | undefined,
    decision: Extract<Decision<CaseEvent>, { ok: true }>,
    head: string,
    context: Context,
  ) {
    const { rows, saving } = state();
    const row = { seq: rows.length + 1, at: context.at, events: decision.events };
    const sentences = decision.warnings.map((warning) => warning.sentence);
    change({
      current: next,
      rows: [...rows, row],
      head,
      saving: saving - 1,
      savedAt: context.at,
      notSaved: undefined,
      notice: sentences.length > 0 ? { kind: 'said', sentences } : undefined,
    });
  }

  const contextBy = (by: string | undefined): Context => ({
    at: ports.clock.now(),
    by: by ?? unnamed,
    id: ports.ids.next(),
  });

  function send(command: Command, by?: string): Promise<Outcome> {
    const context = contextBy(by);
    return queued(async () => {
      const { current, follows, damaged, stage } = state();
      if (!current || follows || damaged || stage === 'fault' || unsaved) return notNow(state());
      try {
        const decision = decide(current, command, context);
        return await record({ caseId: current.id, before: current, decision, context });
      } catch (error) {
        return stopOn(error);
      }
    });
  }

  function notNow(now: SessionState): Outcome {
    const sentence = whyNot(now);
    change({ notice: { kind: 'failed', sentence } });
    return { ok: false, failure: { code: 'not-now', sentence } };
  }

  function begin(command: Omit<OpenCase, 'type' | 'caseId'>): Promise<Outcome> {
    const context = contextBy(undefined);
    const caseId = ports.ids.next();
    return queued(async () => {
      change({ current: undefined, rows: [], head: '', damaged: undefined, follows: false });
      const decision = openCase({ type: 'open', caseId, ...command }, context);
      const outcome = await record({ caseId, before: undefined, decision, context });
      if (!outcome.ok) return outcome;
      await ports.writer.claim(caseId);
      goTo({ screen: 'case', caseId, view: firstView(state().current) });
      await listCases();
      return outcome;
    });
  }

  function goTo(route: Route) {
    memory.write(routeKey, routeText(route));
    change({ route, notice: undefined });
  }

  async function openRoute(route: Route): Promise<void> {
    if (route.screen !== 'case') {
      ports.writer.release();
      goTo(route);
      await listCases();
      return;
    }
    if (state().current?.id !== route.caseId) await load(route.caseId);
    goTo(state().current || state().damaged ? route : startRoute);
  }

  async function load(caseId: string): Promise<void> {
    const recovered = await recover(ports.journal, caseId);
    const role = await ports.writer.claim(caseId);
    const { current, rows, head, damaged } = recovered;
    change({
      current,
      rows,
      head,
      damaged,
      follows: role === 'reader',
      savedAt: current?.lastAt,
      reports: [...state().reports, ...recovered.reports],
    });
  }

  async function listCases(): Promise<void> {
    const listed = await ports.journal.listCases();
    if (!listed.ok) {
      change({ notice: { kind: 'failed', sentence: listed.failure.sentence } });
      return;
    }
    const cases: CaseSummary[] = [];
    for (const { caseId } of listed.cases)
      cases.push(summaryOf(caseId, await recover(ports.journal, caseId)));
    cases.sort((one, other) => (one.startedAt < other.startedAt ? 1 : -1));
    change({ cases });
  }

  async function start(): Promise<void> {
    const { persisted, reports } = await ports.journal.health();
    change({ persisted, reports });
    ports.writer.onWritten((caseId) => {
      if (state().follows && state().current?.id === caseId) void queued(() => load(caseId));
    });
    await queued(() => openRoute(routeFrom(memory.read(routeKey))));
    change({ stage: 'ready' });
  }

  return {
    store,
    start,
    send,
    begin,
    canSend: (command) => {
      const { current, follows, damaged, notSaved } = state();
      if (!current || follows || damaged || notSaved) return false;
      return decide(current, command, { at: ports.clock.now(), by: unnamed, id: '' }).ok;
    },
    go: (route) => queued(() => openRoute(route)),
    show: (view) => {
      const { route } = state();
      if (route.screen === 'case') goTo({ ...route, view });
    },
    dismiss: () => change({ notice: undefined }),
    toggleLights: () => {
      const next = state().lights === 'up' ? 'down' : 'up';
      memory.write(lightsKey, next);
      change({ lights: next });
    },
    retry: () =>
      queued(async () => {
        const pending = unsaved;
        return pending ? record(pending) : { ok: true };
      }),
    exportCase: async (caseId) => {
      const exported = await ports.journal.exportCase(caseId);
      if (exported.ok) return exported.text;
      change({ notice: { kind: 'failed', sentence: exported.failure.sentence } });
      return undefined;
    },
    importCase: async (text) => {
      const imported = await ports.journal.importCase(text);
      if (!imported.ok) return { ok: false, sentence: imported.failure.sentence };
      await queued(listCases);
      const isHere = imported.outcome === 'already-here';
      return {
        ok: true,
        sentence: isHere ? 'This case is on the tablet already.' : 'The case was brought in whole.',
      };
    },
  };
}

type Pending = {
  readonly caseId: string;
  readonly before: Case | undefined;
  readonly decision: Decision<CaseEvent>;
  readonly context: Context;
};

function whyNot(state: SessionState): string {
  if (state.stage === 'fault')
    return 'Recording has stopped. Start the program again; nothing saved is lost.';
  if (state.notSaved) return 'The last entry is not saved yet. Save it first.';
  if (state.follows) return 'Another window writes this case. This one follows it.';
  if (state.damaged) return 'This record is damaged and takes no new entries.';
  return 'No case is open.';
}

/** Where a case that was just opened begins: its first checkpoint. */
function firstView(current: Case | undefined): View {
  const first = current?.sheet.checkpoints[0];
  return first ? { name: 'checkpoint', about: first.id } : { name: 'frame' };
}
