import {
  type Accessor,
  batch,
  createContext,
  createEffect,
  createMemo,
  createSignal,
  onCleanup,
  useContext,
} from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import type { Case } from '#engine/state.ts';
import type { Session } from '#session/createSession.ts';
import { isVeiled } from '#session/guard.ts';
import type { SessionState } from '#session/state.ts';
import { createFields } from './createFields.ts';
import { createScanDesk, type ScanDesk } from './scanDesk.ts';
import { veiled } from './veiled.ts';

/** What a screen reads and where it sends its commands. */
export type SessionView = {
  readonly session: Session;
  /** Each of its fields changes by itself, and tells only those who read that field. */
  readonly state: Accessor<SessionState>;
  /** The open case, as it may be shown now. Changes with an entry, and with nothing else. */
  readonly open: Accessor<Case | undefined>;
  /** The same case by its fields, each of which tells only those who read it. It goes on: not for keeping. */
  readonly fields: Accessor<Case | undefined>;
  /** What stands in the way of entries. Changes seldom. */
  readonly trouble: Accessor<Trouble>;
  /** Whether the engine would take it now; asked again when that can change. */
  readonly can: (command: Command) => boolean;
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

type Trouble = Pick<SessionState, 'notSaved' | 'follows' | 'damaged'>;

const troubleOf = ({ notSaved, follows, damaged }: SessionState): Trouble => ({
  notSaved,
  follows,
  damaged,
});

const shownNow = (state: SessionState): Case | undefined =>
  state.current && isVeiled(state) ? veiled(state.current) : state.current;

export const SessionContext = createContext<SessionView>();

/** Makes the reactive view of a session. Subscribes at once, so that nothing is missed before the first effect. */
export function createSessionView(session: Session): SessionView {
  const first = session.store.getSnapshot().context;
  const [parts, setParts] = createFields(first);
  const state = () => parts;
  const open = createMemo(() => shownNow(parts));
  const { fields, follow } = createCaseFields(shownNow(first));
  const trouble = createMemo(() => troubleOf(parts));
  const subscription = session.store.subscribe(({ context }) =>
    batch(() => {
      setParts(context);
      follow(shownNow(context));
    }),
  );
  const can = (command: Command): boolean => {
    open();
    trouble();
    return session.canSend(command);
  };
  const [now, setNow] = createSignal(session.now());
  const timer = setInterval(() => setNow(session.now()), 1000);
  onCleanup(() => {
    subscription.unsubscribe();
    clearInterval(timer);
  });
  const [asked, setAsked] = createSignal<AskedLine>();
  const scans = createScanDesk(() => state().scanner);
  return { session, state, open, fields, trouble, can, now, scans, asked, setAsked };
}

/** The fields of the case that is open, made anew for each case and kept up with it. */
function createCaseFields(first: Case | undefined) {
  type Followed = { readonly id: string; readonly set: (next: Case) => void };
  const [fields, setFields] = createSignal<Case>();
  let followed: Followed | undefined;
  const follow = (next: Case | undefined): void => {
    if (next !== undefined && next.id === followed?.id) followed.set(next);
    else {
      const [made, set] = next === undefined ? [] : createFields(next);
      followed = next && set && { id: next.id, set };
      setFields(() => made);
    }
  };
  follow(first);
  return { fields, follow };
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
  return lastOf(useSession().open);
}

/**
 * The open case for what stands on little of it: told when a field that was read is another, and not with each entry.
 * What goes through all lines asks `useCase`, since each reading here is noted.
 */
export function useCaseFields(): Accessor<Case> {
  return lastOf(useSession().fields);
}

/** A screen that goes shows the case once more that has just been closed. */
function lastOf(open: Accessor<Case | undefined>): Accessor<Case> {
  let last = open();
  return () => {
    last = open() ?? last;
    if (!last) throw new Error('No case is open.');
    return last;
  };
}
