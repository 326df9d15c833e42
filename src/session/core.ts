import type { Case } from '#engine/state.ts';
import { type Lately, makeLately } from '#journal/lately.ts';
import { say } from '#words/say.ts';
import { createSessionStore, type SessionStore } from './createSessionStore.ts';
import type { Ports, Rules } from './ports.ts';
import type { Recovered } from './recovery.ts';
import { type Route, routeKey, routeText, startRoute } from './route.ts';
import { rememberedSettings } from './settings.ts';
import type { SessionState } from './state.ts';

/** What the parts of the session share: the ports, the store, and one queue for everything that is recorded. */
export type Core = {
  readonly ports: Ports;
  readonly store: SessionStore;
  readonly state: () => SessionState;
  readonly change: (part: Partial<SessionState>) => void;
  /** Runs a job after every earlier one, whatever became of them. */
  readonly queued: <T>(job: () => Promise<T>) => Promise<T>;
  /** What was said beside an entry is still unread where the screen goes on by itself. */
  readonly goTo: (route: Route, how?: 'go-on') => void;
  /** Undefined until they are read. */
  readonly rules: () => Rules | undefined;
  /** Reads them, once; undefined where a file of the program did not come. */
  readonly readRules: () => Promise<Rules | undefined>;
  /** Cases that were read lately, as they were then. */
  readonly lately: Lately<Recovered>;
};

/** Makes what the parts of the session share. */
export function createCore(ports: Ports): Core {
  const store = createSessionStore(startRoute, rememberedSettings(ports));
  let queue: Promise<unknown> = Promise.resolve();
  let rules: Rules | undefined;
  const change = (part: Partial<SessionState>) => store.trigger.changed({ change: part });
  return {
    ports,
    store,
    state: () => store.getSnapshot().context,
    change,
    queued: (job) => {
      const answer = queue.then(job);
      queue = answer.catch(() => undefined);
      return answer;
    },
    goTo: (route, how) => {
      ports.memory.write(routeKey, routeText(route));
      change(how === 'go-on' ? { route } : { route, notice: undefined });
    },
    rules: () => rules,
    readRules: async () => {
      rules ??= await ports.rules().catch(() => undefined);
      return rules;
    },
    lately: makeLately(({ last }) => last?.seq ?? 0),
  };
}

export const rememberedRoute = (ports: Ports): string | undefined => ports.memory.read(routeKey);

/** Said where an entry waits to be saved. */
export const saveFirst = 'The last entry is not saved yet. Save it first.';

/** Said when an entry takes long, whatever the reason. It is not refused yet. */
export const stillSaving = 'The last entry is not saved yet. The tablet is trying.';

/** Why nothing can be recorded now, in a sentence; undefined where something can. */
export function whyNot(state: SessionState, current: Case | undefined): string | undefined {
  if (state.stage === 'fault')
    return say`Recording has stopped. Start the program again; nothing saved is lost.`;
  if (state.notSaved !== undefined && state.notSaved !== stillSaving) return saveFirst;
  if (state.follows) return say`Another window writes this case. This one follows it.`;
  if (state.damaged) return say`This record is damaged and takes no new entries.`;
  return current ? undefined : say`No case is open.`;
}

/** Said where the paper is typed in and no time of it was said. */
export const timeFirst = 'Say the time that stands on the paper first, or that it has none.';

/** Whether the paper of the open case is being typed in. Another case, and a restart, end it. */
export const isFromPaper = ({ fromPaper, current }: SessionState): boolean =>
  fromPaper !== undefined && fromPaper === current?.id;
