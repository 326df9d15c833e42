import { createStore } from '@xstate/store';
import type { Route } from './route.ts';
import type { Settings } from './settings.ts';
import { firstState, type SessionState } from './state.ts';

/** The store that the screens read. Only the session writes it, and only what the journal holds. */
export function createSessionStore(route: Route, settings: Settings) {
  return createStore({
    context: firstState(route, settings),
    on: {
      changed: (context, event: { readonly change: Partial<SessionState> }): SessionState => ({
        ...context,
        ...event.change,
      }),
    },
  });
}

export type SessionStore = ReturnType<typeof createSessionStore>;
