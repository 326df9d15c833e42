import {
  type Accessor,
  createContext,
  createEffect,
  createSignal,
  onCleanup,
  useContext,
} from 'solid-js';
import type { Case } from '#engine/state.ts';
import type { Session } from '#session/createSession.ts';
import { isVeiled } from '#session/guard.ts';
import type { SessionState } from '#session/state.ts';
import { createScanDesk, type ScanDesk } from './scanDesk.ts';
import { veiled } from './veiled.ts';

/** What a screen reads and where it sends its commands. */
export type SessionView = {
  readonly session: Session;
  readonly state: Accessor<SessionState>;
  /** Time of day of this device, renewed every second. For clocks only, never for the order of anything. */
  readonly now: Accessor<string>;
  /** Where scans come in, whatever screen is shown. */
  readonly scans: ScanDesk;
  /** The line that is being counted, so that practice can show what lies there. */
  readonly asked: Accessor<AskedLine | undefined>;
  readonly setAsked: (line: AskedLine | undefined) => void;
};

/** `pack` counts from 0, where each pack has a number of its own. */
export type AskedLine = {
  readonly line: string;
  readonly part: 'field' | 'off';
  readonly pack?: number;
};

export const SessionContext = createContext<SessionView>();

/** Makes the reactive view of a session. Subscribes at once, so that nothing is missed before the first effect. */
export function createSessionView(session: Session): SessionView {
  const [state, setState] = createSignal(session.store.getSnapshot().context);
  const subscription = session.store.subscribe(({ context }) => setState(context));
  const [now, setNow] = createSignal(session.now());
  const timer = setInterval(() => setNow(session.now()), 1000);
  onCleanup(() => {
    subscription.unsubscribe();
    clearInterval(timer);
  });
  const [asked, setAsked] = createSignal<AskedLine>();
  const scans = createScanDesk(() => state().scanner);
  return { session, state, now, scans, asked, setAsked };
}

/** Says which line is counted, for as long as its screen is there. */
export function sayAsked(line: Accessor<AskedLine | undefined>): void {
  const { setAsked } = useSession();
  createEffect(() => setAsked(line()));
  onCleanup(() => setAsked(undefined));
}

/** Throws: an error, outside of the session's context. */
export function useSession(): SessionView {
  const view = useContext(SessionContext);
  if (!view) throw new Error('No session around this screen.');
  return view;
}

/** The open case, as it may be shown now. Only used on screens that are shown while one is open. */
export function useCase(): Accessor<Case> {
  const { state } = useSession();
  let last = state().current;
  return () => {
    last = state().current ?? last;
    if (!last) throw new Error('No case is open.');
    return isVeiled(state()) ? veiled(last) : last;
  };
}
