import {
  createEffect,
  createSignal,
  lazy,
  Match,
  onCleanup,
  Show,
  Suspense,
  Switch,
} from 'solid-js';
import type { Session } from '#session/createSession.ts';
import { isVeiled } from '#session/guard.ts';
import type { SheetLibrary } from '#session/sheetLibrary.ts';
import { CheckpointScreen } from './checkpoint/CheckpointScreen.tsx';
import { ClosingScreen } from './closing/ClosingScreen.tsx';
import { CountScreen } from './count/CountScreen.tsx';
import { RecountScreen } from './count/RecountScreen.tsx';
import { DiscrepancyScreen } from './discrepancy/DiscrepancyScreen.tsx';
import { FaultScreen } from './FaultScreen.tsx';
import { FrameScreen } from './frame/FrameScreen.tsx';
import { LeavingScreen } from './leaving/LeavingScreen.tsx';
import { LockedView } from './locked/LockedView.tsx';
import { OpeningScreen } from './opening/OpeningScreen.tsx';
import { PeopleScreen } from './people/PeopleScreen.tsx';
import { PracticeEnd, PracticeOffer, type PracticeProps, PracticeStrip } from './practiceParts.tsx';
import { RecordScreen } from './record/RecordScreen.tsx';
import type { RecordKit } from './recordKit.ts';
import { SignSheet } from './SignSheet.tsx';
import { SpecimenScreen } from './specimen/SpecimenScreen.tsx';
import { StartScreen } from './start/StartScreen.tsx';
import { createSessionView, SessionContext, useSession } from './useSession.ts';
import { WallScreen } from './wall/WallScreen.tsx';

export type AppProps = {
  readonly session: Session;
  readonly library: SheetLibrary;
  readonly record: RecordKit;
} & PracticeProps;

/** Screens that most cases never show are loaded when they are. */
const LibraryScreen = lazy(async () => {
  const { LibraryScreen: screen } = await import('./library/LibraryScreen.tsx');
  return { default: screen };
});
const AfterwardsScreen = lazy(async () => {
  const { AfterwardsScreen: screen } = await import('./afterwards/AfterwardsScreen.tsx');
  return { default: screen };
});
const CasePaper = lazy(async () => {
  const { CasePaper: screen } = await import('./CasePaper.tsx');
  return { default: screen };
});

/** The program on the screen. */
export function App(props: AppProps) {
  const [sheets, setSheets] = createSignal(props.library.entries());
  onCleanup(props.library.subscribe(() => setSheets(props.library.entries())));
  const view = createSessionView(props.session);
  createEffect(() => {
    document.documentElement.dataset.lights = view.state().lights;
  });
  return (
    <SessionContext.Provider value={view}>
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
          <p class="waiting">Reading the record…</p>
        </Match>
        <Match when={view.state().route.screen === 'opening'}>
          <OpeningScreen sheets={sheets()} />
        </Match>
        <Match when={view.state().route.screen === 'library'}>
          <Suspense fallback={<p class="waiting">Opening the sheets…</p>}>
            <LibraryScreen library={props.library} entries={sheets()} />
          </Suspense>
        </Match>
        <Match when={view.state().route.screen === 'afterwards'}>
          <Suspense fallback={<p class="waiting">Reading the cases…</p>}>
            <AfterwardsScreen record={props.record} />
          </Suspense>
        </Match>
        <Match when={view.state().route.screen === 'people'}>
          <PeopleScreen />
        </Match>
        <Match when={view.state().route.screen === 'case' && view.state().current}>
          <PracticeStrip practice={props.practice} />
          <CaseView {...props} />
        </Match>
      </Switch>
      <SignSheet />
    </SessionContext.Provider>
  );
}

function CaseView(props: AppProps) {
  const { state } = useSession();
  const view = () => {
    const { route } = state();
    return route.screen === 'case' ? route.view : { name: 'frame' as const };
  };
  const about = () => {
    const open = view();
    return 'about' in open ? open.about : '';
  };
  const is = (name: string) => view().name === name;
  // While a count runs nothing else is on the screen: what the record expects would be in the page.
  const running = () => state().current?.counts.running?.moment;
  return (
    <Show when={`${running() ?? ''}/${view().name}/${about()}`} keyed>
      <Switch fallback={<FrameScreen />}>
        <Match when={is('wall')}>
          <WallScreen />
        </Match>
        <Match when={isVeiled(state()) && (is('specimen') || is('record') || is('paper'))}>
          <LockedView />
        </Match>
        <Match when={running()}>
          <CountScreen moment={running() ?? ''} />
        </Match>
        <Match when={is('checkpoint')}>
          <CheckpointScreen checkpoint={about()} />
        </Match>
        <Match when={is('count')}>
          <CountScreen moment={about()} />
        </Match>
        <Match when={is('recount')}>
          <RecountScreen />
        </Match>
        <Match when={is('discrepancy')}>
          <DiscrepancyScreen line={about()} />
        </Match>
        <Match when={is('specimen')}>
          <SpecimenScreen specimen={about()} />
        </Match>
        <Match when={is('look') || is('closing')}>
          <ClosingScreen closure={about()} />
        </Match>
        <Match when={is('leaving')}>
          <LeavingScreen />
        </Match>
        <Match when={is('paper')}>
          <Suspense fallback={<p class="waiting">Laying out the paper…</p>}>
            <CasePaper />
          </Suspense>
        </Match>
        <Match when={is('debrief')}>
          <PracticeEnd practice={props.practice} />
        </Match>
        <Match when={is('record')}>
          <RecordScreen record={props.record} />
        </Match>
      </Switch>
    </Show>
  );
}
