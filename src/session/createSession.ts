import type { OpenCase } from '#engine/case/events.ts';
import type { Case } from '#engine/state.ts';
import { type Core, createCore, rememberedRoute, toggleLights } from './core.ts';
import type { SessionStore } from './createSessionStore.ts';
import { createLibrary, type Library, withNew } from './library.ts';
import type { Ports, Report } from './ports.ts';
import { createRecorder, type Outcome, type Recorder } from './recorder.ts';
import { type Route, routeFrom, type View } from './route.ts';

/** The running program: the only place where engine and journal meet. */
export type Session = Pick<Recorder, 'send' | 'canSend' | 'retry'> &
  Pick<Library, 'exportCase' | 'importCase'> & {
    readonly store: SessionStore;
    /** Starts up after anything: lists the cases and comes back to where the screen was. */
    readonly start: () => Promise<void>;
    readonly begin: (command: Omit<OpenCase, 'type' | 'caseId'>) => Promise<Outcome>;
    readonly go: (route: Route) => Promise<void>;
    /** Opens another screen of the open case. */
    readonly show: (view: View) => void;
    readonly dismiss: () => void;
    readonly toggleLights: () => void;
    readonly now: () => string;
  };

/** Makes the session over the ports of the world. */
export function createSession(ports: Ports): Session {
  const core = createCore(ports);
  const recorder = createRecorder(core);
  const library = createLibrary(core);
  const { state, change, queued, goTo } = core;

  async function begin(command: Omit<OpenCase, 'type' | 'caseId'>): Promise<Outcome> {
    const caseId = ports.ids.next();
    const outcome = await recorder.begin({ caseId, ...command });
    if (!outcome.ok) return outcome;
    await ports.writer.claim(caseId);
    goTo({ screen: 'case', caseId, view: firstView(state().current) });
    return outcome;
  }

  async function start(): Promise<void> {
    const { persisted, reports } = await ports.journal.health();
    change({ persisted, reports });
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
    begin,
    send: recorder.send,
    canSend: recorder.canSend,
    retry: recorder.retry,
    exportCase: library.exportCase,
    importCase: library.importCase,
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
