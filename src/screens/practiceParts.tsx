import { lazy, Show, Suspense } from 'solid-js';
import type { SheetEntry } from '#session/sheetEntry.ts';
import type { LoadScripts } from './practice/createPractice.ts';
import { useSession } from './useSession.ts';

/** What practice needs: its cases are brought when they are wanted, so that they are not in the page's first load. */
export type PracticeProps = { readonly practice: LoadScripts };

const PracticeList = lazy(async () => ({
  default: (await import('./practice/PracticeList.tsx')).PracticeList,
}));
const Coach = lazy(async () => ({ default: (await import('./practice/Coach.tsx')).Coach }));
const DebriefScreen = lazy(async () => ({
  default: (await import('./practice/DebriefScreen.tsx')).DebriefScreen,
}));

/** On the first screen: what can be practised, and the practice cases, which stand apart. */
export function PracticeOffer(props: PracticeProps & { readonly sheets: readonly SheetEntry[] }) {
  return (
    <Suspense>
      <PracticeList load={props.practice} sheets={props.sheets} />
    </Suspense>
  );
}

/** Above the tablet while a practice case is open; not over the wall, nor over the end. */
export function PracticeStrip(props: PracticeProps) {
  const { state } = useSession();
  const isShown = () => {
    const { current, route } = state();
    const view = route.screen === 'case' ? route.view.name : 'frame';
    return current?.practice === true && view !== 'wall' && view !== 'debrief';
  };
  return (
    <Show when={isShown()}>
      <Suspense>
        <Coach load={props.practice} />
      </Suspense>
    </Show>
  );
}

/** The end of a practice case. */
export function PracticeEnd(props: PracticeProps) {
  return (
    <Suspense>
      <DebriefScreen load={props.practice} />
    </Suspense>
  );
}
