import {
  createEffect,
  createMemo,
  createSignal,
  lazy,
  Match,
  onCleanup,
  Show,
  Suspense,
  Switch,
} from 'solid-js';
import type { Session } from '#session/createSession.ts';
import { entryInWords } from '#session/sheetInWords.ts';
import type { SheetLibrary } from '#session/sheetLibrary.ts';
import { say } from '#words/say.ts';
import { FaultScreen } from './FaultScreen.tsx';
import { PracticeOffer, type PracticeProps, PracticeStrip } from './practiceParts.tsx';
import type { RecordKit } from './recordKit.ts';
import { readListener } from './scanDesk.ts';
import { StartScreen } from './start/StartScreen.tsx';
import { createSessionView, SessionContext } from './useSession.ts';
import { WithKit } from './WithKit.tsx';

export type AppProps = {
  readonly session: Session;
  readonly library: SheetLibrary;
  /** The printed record and the files that leave the tablet, read when they are wanted. */
  readonly record: () => Promise<RecordKit>;
} & PracticeProps;

/** Screens that the first one does not need; `preloadScreens` reads them as soon as it stands. */
const LibraryScreen = lazy(async () => {
  const { LibraryScreen: screen } = await import('./library/LibraryScreen.tsx');
  return { default: screen };
});
const AfterwardsScreen = lazy(async () => {
  const { AfterwardsScreen: screen } = await import('./afterwards/AfterwardsScreen.tsx');
  return { default: screen };
});
const CaseView = lazy(async () => ({ default: (await import('./CaseView.tsx')).CaseView }));
const OpeningScreen = lazy(async () => ({
  default: (await import('./opening/OpeningScreen.tsx')).OpeningScreen,
}));
/** Lies over any screen while something waits for PINs. */
const SignSheet = lazy(async () => ({ default: (await import('./SignSheet.tsx')).SignSheet }));
const PeopleScreen = lazy(async () => ({
  default: (await import('./people/PeopleScreen.tsx')).PeopleScreen,
}));

/** Reads what a case needs, so that nothing is waited for once it runs. A file that is not there is said when used. */
export async function preloadScreens(): Promise<void> {
  const read = [CaseView.preload(), OpeningScreen.preload(), SignSheet.preload()];
  await Promise.allSettled([...read, readListener()]);
}

/** The program on the screen. */
export function App(props: AppProps) {
  const [entries, setEntries] = createSignal(props.library.entries());
  onCleanup(props.library.subscribe(() => setEntries(props.library.entries())));
  const sheets = createMemo(() => entries().map(entryInWords));
  const view = createSessionView(props.session);
  const lights = createMemo(() => view.state().lights);
  const language = createMemo(() => view.state().language);
  createEffect(() => {
    document.documentElement.dataset.lights = lights();
    document.documentElement.lang = language();
  });
  return (
    <SessionContext.Provider value={view}>
      <Suspense fallback={<p class="waiting">{say`Opening…`}</p>}>
        <Switch
          fallback={
            <StartScreen
              sheets={sheets()}
              practice={<PracticeOffer practice={props.practice} sheets={sheets()} />}
            />
          }
        >
          <Match when={view.state().stage === 'fault'}>
            <FaultScreen />
          </Match>
          <Match when={view.state().stage === 'starting'}>
            <p class="waiting">{say`Reading the record…`}</p>
          </Match>
          <Match when={view.state().route.screen === 'opening'}>
            <OpeningScreen sheets={sheets()} />
          </Match>
          <Match when={view.state().route.screen === 'library'}>
            <Suspense fallback={<p class="waiting">{say`Opening the sheets…`}</p>}>
              <LibraryScreen library={props.library} entries={sheets()} />
            </Suspense>
          </Match>
          <Match when={view.state().route.screen === 'afterwards'}>
            <Suspense fallback={<p class="waiting">{say`Reading the cases…`}</p>}>
              <WithKit load={props.record}>{(kit) => <AfterwardsScreen record={kit} />}</WithKit>
            </Suspense>
          </Match>
          <Match when={view.state().route.screen === 'people'}>
            <PeopleScreen />
          </Match>
          <Match when={view.state().route.screen === 'case' && view.state().current}>
            <PracticeStrip practice={props.practice} />
            <CaseView record={props.record} practice={props.practice} />
          </Match>
        </Switch>
      </Suspense>
      <Show when={view.state().asking}>
        {(asking) => (
          <Suspense>
            <SignSheet asking={asking()} />
          </Suspense>
        )}
      </Show>
    </SessionContext.Provider>
  );
}
