import type { Command, OpenCase } from '#engine/case/events.ts';
import type { Case } from '#engine/state.ts';
import { type Core, createCore, rememberedRoute, toggleLights } from './core.ts';
import type { SessionStore } from './createSessionStore.ts';
import { createGuard, type Guard, notSigned } from './guard.ts';
import { createLibrary } from './library.ts';
import { withNew } from './listing.ts';
import type { Ports, Report } from './ports.ts';
import { createRecorder, type Outcome, type Recorder } from './recorder.ts';
import { type Route, routeFrom, type View } from './route.ts';
import { createTakeOut, type TakeOut } from './takeOut.ts';

/** The running program: the only place where engine and journal meet. */
export type Session = Pick<Recorder, 'canSend' | 'retry'> &
  TakeOut &
  Pick<Guard, 'give' | 'without' | 'leave' | 'lock'> & {
    readonly store: SessionStore;
    /** Starts up after anything: lists the cases and comes back to where the screen was. */
    readonly start: () => Promise<void>;
    readonly send: (command: Command, by?: string) => Promise<Outcome>;
    readonly begin: (command: Omit<OpenCase, 'type' | 'caseId'>) => Promise<Outcome>;
    readonly go: (route: Route) => Promise<void>;
    /** Opens another screen of the open case. */
    readonly show: (view: View) => void;
    readonly dismiss: () => void;
    /** The names of those of the unit who confirm it by PIN; undefined when it was left. */
    readonly confirm: (words: string) => Promise<readonly string[] | undefined>;
    /** The people of the unit, where there is a place for them. */
    readonly vault: Ports['vault'];
    readonly toggleLights: () => void;
    readonly now: () => string;
  };

/** Makes the session over the ports of the world. */
export function createSession(ports: Ports): Session {
  const core = createCore(ports);
  const recorder = createRecorder(core);
  const library = createLibrary(core);
  const guard = createGuard(core, library);
  const { state, change, queued, goTo } = core;

  async function start(): Promise<void> {
    const { persisted, reports } = await ports.journal.health();
    change({ persisted, reports });
    await guard.start();
    ports.journal.watch((caseId, said) => heard(core, caseId, said));
    ports.writer.onWritten((caseId) => {
      if (state().follows && state().current?.id === caseId)
        void queued(() => library.load(caseId));
    });
    await queued(() => library.open(routeFrom(rememberedRoute(ports))));
    change({ stage: 'ready' });
  }

  return {
    store: core.store,
    start,
    ...createActs(core, recorder, guard),
    ...createTakeOut(core, library, guard),
    ...{ give: guard.give, without: guard.without, leave: guard.leave, lock: guard.lock },
    ...{ canSend: recorder.canSend, retry: recorder.retry, vault: ports.vault },
    confirm: async (words) => {
      const signed = await guard.anyone(words);
      return signed === 'left' ? undefined : signed.map(({ name }) => name);
    },
    go: (route) => queued(() => library.open(route)),
    show: (view) => {
      const { route } = state();
      if (route.screen === 'case') goTo({ ...route, view });
    },
    dismiss: () => change({ notice: undefined }),
    toggleLights: () => toggleLights(core),
    now: ports.clock.now,
  };
}

/** Opening a case, and what is entered in it: each confirmed by those who stand for it. */
function createActs(core: Core, recorder: Recorder, guard: Guard): Pick<Session, 'begin' | 'send'> {
  const { ports, state, change, goTo } = core;

  async function begin(command: Omit<OpenCase, 'type' | 'caseId'>): Promise<Outcome> {
    const isPractice = command.practice === true;
    const signed = isPractice ? [] : await guard.anyone('Start a case', true);
    if (signed === 'left') return notSigned;
    const caseId = `${isPractice ? 'practice-' : ''}${ports.ids.next()}`;
    const ready = isPractice ? undefined : await ports.vault?.receive(caseId);
    if (ready?.ok === false) return couldNot(ready.failure);
    const outcome = await recorder.begin({ caseId, ...command }, signed);
    if (!outcome.ok) return outcome;
    await ports.writer.claim(caseId);
    goTo({ screen: 'case', caseId, view: firstView(state().current) });
    return outcome;
  }

  async function send(command: Command, by?: string): Promise<Outcome> {
    const wanted = guard.toSign(state().current, command);
    // What is refused needs no PIN: the sentence is said at once.
    const isAsked = wanted !== undefined && recorder.canSend(command);
    const signed = isAsked ? await guard.ask(wanted, true) : [];
    if (!signed) return notSigned;
    const outcome = await recorder.send(command, by, signed);
    const after = state().current;
    if (outcome.ok && command.type === 'finish' && after) await ports.vault?.cases.end(after.id);
    return outcome;
  }

  function couldNot(failure: { readonly sentence: string }): Outcome {
    const { sentence } = failure;
    change({ notice: { kind: 'failed', sentence } });
    return { ok: false, failure: { code: 'not-kept', sentence } };
  }

  return { begin, send };
}

/** What the journal says while it works: shown at once, and gone when all is on disk again. */
function heard({ state, change }: Core, caseId: string, said: Report): void {
  const isOpen = state().current?.id === caseId;
  if (said.code === 'not-saved') {
    if (isOpen) change({ notSaved: said.sentence });
    return;
  }
  if (said.code !== 'saved-again') change({ reports: withNew(state().reports, [said]) });
}

/** Where a case that was just opened begins: its first checkpoint. */
function firstView(current: Case | undefined): View {
  const first = current?.sheet.checkpoints[0];
  return first ? { name: 'checkpoint', about: first.id } : { name: 'frame' };
}
