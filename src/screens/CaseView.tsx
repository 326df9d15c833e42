import { lazy, Match, Show, Suspense, Switch } from 'solid-js';
import { isVeiled } from '#session/guard.ts';
import { say } from '#words/say.ts';
import { BriefScreen } from './brief/BriefScreen.tsx';
import { CaseScansContext, createCaseScans } from './caseScans.ts';
import { CheckpointScreen } from './checkpoint/CheckpointScreen.tsx';
import { ClosingScreen } from './closing/ClosingScreen.tsx';
import { CountScreen } from './count/CountScreen.tsx';
import { RecountScreen } from './count/RecountScreen.tsx';
import { DiscrepancyScreen } from './discrepancy/DiscrepancyScreen.tsx';
import { DoseScreen } from './dose/DoseScreen.tsx';
import { FrameScreen } from './frame/FrameScreen.tsx';
import { LeavingScreen } from './leaving/LeavingScreen.tsx';
import { LockedView } from './locked/LockedView.tsx';
import { PracticeEnd, type PracticeProps } from './practiceParts.tsx';
import { RecordScreen } from './record/RecordScreen.tsx';
import type { RecordKit } from './recordKit.ts';
import { ScanSheets } from './ScanSheets.tsx';
import { SpecimenScreen } from './specimen/SpecimenScreen.tsx';
import { useSession } from './useSession.ts';
import { WithKit } from './WithKit.tsx';
import { WallScreen } from './wall/WallScreen.tsx';

const CasePaper = lazy(async () => {
  const { CasePaper: screen } = await import('./CasePaper.tsx');
  return { default: screen };
});

type CaseViewProps = PracticeProps & { readonly record: () => Promise<RecordKit> };

/** The screen of a case that is open now, and what scans say over it. */
export function CaseView(props: CaseViewProps) {
  return (
    <CaseScansContext.Provider value={createCaseScans()}>
      <OpenView {...props} />
      <ScanSheets />
    </CaseScansContext.Provider>
  );
}

function OpenView(props: CaseViewProps) {
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
        <Match when={is('brief')}>
          <BriefScreen />
        </Match>
        <Match when={is('dose')}>
          <DoseScreen />
        </Match>
        <Match when={is('leaving')}>
          <LeavingScreen />
        </Match>
        <Match when={is('paper')}>
          <Suspense fallback={<p class="waiting">{say`Laying out the paper…`}</p>}>
            <CasePaper />
          </Suspense>
        </Match>
        <Match when={is('debrief')}>
          <PracticeEnd practice={props.practice} />
        </Match>
        <Match when={is('record')}>
          <WithKit load={props.record}>{(kit) => <RecordScreen record={kit} />}</WithKit>
        </Match>
      </Switch>
    </Show>
  );
}
