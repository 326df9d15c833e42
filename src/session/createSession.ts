import type { Command, OpenCase } from '#engine/case/events.ts';
import type { LanguageId } from '#words/languages.ts';
import { say } from '#words/say.ts';
import { type Core, createCore, rememberedRoute } from './core.ts';
import type { SessionStore } from './createSessionStore.ts';
import { createDeviceNotes, type DeviceNotes } from './device.ts';
import { createGuard, type Guard, notSigned } from './guard.ts';
import { createLibrary, readRows } from './library.ts';
import { withNew } from './listing.ts';
import { onPaper } from './onPaper.ts';
import { createOpening, type Opening } from './opening.ts';
import { createPeople, type People } from './people.ts';
import type { Ports, Report } from './ports.ts';
import { createPractising, type Practising, type Prepared } from './practising.ts';
import { createRecorder, type Outcome, type Recorder } from './recorder.ts';
import { createReportNotes, type ReportNotes, unreadOf } from './reportNotes.ts';
import { type Route, routeFrom, type View } from './route.ts';
import { setLanguage, setScanner, toggleLights } from './settings.ts';
import type { RecordedRow, ScannerSettings } from './state.ts';
import { createTakeOut, type TakeOut } from './takeOut.ts';

/** The running program: the only place where engine and journal meet. */
export type Session = Pick<Recorder, 'canSend' | 'refusalOf' | 'retry'> &
  TakeOut &
  Practising &
  DeviceNotes &
  ReportNotes &
  Pick<Guard, 'give' | 'without' | 'leave' | 'lock'> & {
    readonly store: SessionStore;
    /** Starts up after anything: lists the cases and comes back to where the screen was. */
    readonly start: () => Promise<void>;
    readonly send: (command: Command, by?: string) => Promise<Outcome>;
    readonly begin: (
      command: Omit<OpenCase, 'type' | 'caseId'>,
      prepared?: readonly Prepared[],
    ) => Promise<Outcome>;
    readonly go: (route: Route) => Promise<void>;
    /** Opens another screen of the open case; `go-on` after an entry, with what was said beside that. */
    readonly show: (view: View, how?: 'go-on') => void;
    /** Every entry of the open case, up to the last that is shown. Undefined where no copy of it can be read now. */
    readonly readRows: () => Promise<readonly RecordedRow[] | undefined>;
    /** Makes this window the one that writes, also where another has the case and does not let go. */
    readonly takeOver: () => Promise<void>;
    readonly dismiss: () => void;
    /** The names of those of the unit who confirm it by PIN; undefined when it was left. */
    readonly confirm: (words: string) => Promise<readonly string[] | undefined>;
    readonly people: People;
    /** The key that signs what leaves the tablet, as `npm run verify` says it; undefined where there is none. */
    readonly signedAs: () => Promise<string | undefined>;
    readonly toggleLights: () => void;
    readonly setLanguage: (language: LanguageId) => void;
    /** How this theatre's scanners send the separator. */
    readonly setScanner: (settings: ScannerSettings) => void;
    /** From now on entries of the open case are marked as written on paper first; or no longer. */
    readonly markFromPaper: (isOn: boolean) => void;
    /** The time of day that stands on the paper for the next entries, as 13:40; `none` where it has none. */
    readonly sayPaperTime: (time: string) => void;
    readonly now: () => string;
  };

/** Makes the session over the ports of the world. */
export function createSession(ports: Ports): Session {
  const core = createCore(ports);
  const library = createLibrary(core);
  const recorder = createRecorder(core, library.load);
  const guard = createGuard(core, library);
  const opening = createOpening(core, recorder);
  const { state, change, queued } = core;

  async function start(): Promise<void> {
    const { persisted, reports } = await ports.journal.health();
    change({ persisted, reports });
    await guard.start();
    ports.journal.watch((caseId, said) => heard(core, caseId, said));
    ports.writer.onLost((caseId) => {
      if (state().current?.id === caseId) void queued(() => library.load(caseId));
    });
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
    ...createActs(core, { recorder, guard, opening }),
    ...createTakeOut(core, library, guard),
    ...createPractising(core, library),
    ...createDeviceNotes(core),
    ...createReportNotes(core),
    ...{ give: guard.give, without: guard.without, leave: guard.leave, lock: guard.lock },
    ...{ canSend: recorder.canSend, refusalOf: recorder.refusalOf, retry: opening.retry },
    readRows: () => readRows(core),
    people: createPeople(core, guard),
    signedAs: ports.signedAs ?? (async () => undefined),
    confirm: async (words) => {
      const signed = await guard.anyone(words);
      return signed === 'left' ? undefined : signed.map(({ name }) => name);
    },
    go: (route) =>
      queued(() => {
        opening.leave();
        return library.open(route);
      }),
    takeOver: async () => {
      const { current } = state();
      if (current) await queued(() => library.load(current.id, 'take-over'));
    },
    show: (view, how) => {
      const { route } = state();
      if (route.screen === 'case') core.goTo({ ...route, view }, how);
    },
    dismiss: () => change({ notice: undefined }),
    toggleLights: () => toggleLights(core),
    setLanguage: (language) => setLanguage(core, language),
    setScanner: (settings) => setScanner(core, settings),
    markFromPaper: (isOn) =>
      change({ fromPaper: isOn ? state().current?.id : undefined, paperTime: undefined }),
    sayPaperTime: (time) =>
      change({ paperTime: time === 'none' ? time : onPaper(time, ports.clock.now()) }),
    now: ports.clock.now,
  };
}

type ActsParts = {
  readonly recorder: Recorder;
  readonly guard: Guard;
  readonly opening: Opening;
};

/** Opening a case, and what is entered in it: each confirmed by those who stand for it. */
function createActs(
  core: Core,
  { recorder, guard, opening }: ActsParts,
): Pick<Session, 'begin' | 'send'> {
  const { ports, state, change } = core;

  async function begin(
    command: Omit<OpenCase, 'type' | 'caseId'>,
    prepared: readonly Prepared[] = [],
  ): Promise<Outcome> {
    const isPractice = command.practice === true;
    const signed = isPractice ? [] : await guard.anyone(say`Start a case`, true);
    if (signed === 'left') return notSigned();
    const caseId = `${isPractice ? 'practice-' : ''}${ports.ids.next()}`;
    const ready = isPractice ? undefined : await ports.vault?.receive(caseId);
    if (ready?.ok === false) return couldNot(ready.failure);
    return opening.begin({ caseId, ...command }, signed, isPractice ? prepared : []);
  }

  async function send(command: Command, by?: string): Promise<Outcome> {
    const wanted = guard.toSign(state().current, command);
    // What is refused needs no PIN: the sentence is said at once.
    const isAsked = wanted !== undefined && recorder.canSend(command);
    const signed = isAsked ? await guard.ask(wanted, true) : [];
    if (!signed) return notSigned();
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

  return {
    begin: (command, prepared) => opening.once(() => begin(command, prepared)),
    send,
  };
}

/** What the journal says while it works: shown at once, and gone when all is on disk again. */
function heard({ state, change }: Core, caseId: string, said: Report): void {
  const { current, isOpening } = state();
  if (said.code === 'not-saved') {
    // While a case is being opened there is none yet.
    const isOpen = current ? current.id === caseId : isOpening;
    if (isOpen) change({ notSaved: said.sentence });
    return;
  }
  if (said.code === 'saved-again') return;
  const { reports, unread } = state();
  change({ reports: withNew(reports, [said]) });
  if (current?.id === caseId) change({ unread: unreadOf(state(), [...unread, said]) });
}
