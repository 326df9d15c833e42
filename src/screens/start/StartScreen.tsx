import { For, type JSX, Show } from 'solid-js';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import type { SheetEntry } from '#session/sheetEntry.ts';
import type { CaseSummary } from '#session/state.ts';
import { dateAndTime } from '#words/dates.ts';
import { say, sayOf } from '#words/say.ts';
import { UnitBar } from '../UnitBar.tsx';
import { useSession } from '../useSession.ts';
import { BringIn } from './BringIn.tsx';
import { LanguageKey } from './LanguageKey.tsx';

/** The first screen: cases in progress and closed, or how to begin. */
export function StartScreen(props: {
  readonly sheets: readonly SheetEntry[];
  /** What can be practised, and the practice cases, which stand apart. */
  readonly practice?: JSX.Element;
}) {
  const { session, state } = useSession();
  const cases = () => state().cases.filter((one) => !one.practice);
  const running = () => cases().filter((one) => one.finishedAt === undefined);
  const closed = () => cases().filter((one) => one.finishedAt !== undefined);
  const owed = () => closed().reduce((sum, one) => sum + (one.practice ? 0 : one.owed.length), 0);
  return (
    <div class="start">
      <header class="start-head">
        <h1>{say`Lastlook`}</h1>
        <p class="quiet">{say`Checklist, counts and specimens, up to the last look before closing.`}</p>
        <LanguageKey />
        <Button kind="plain" onPress={session.toggleLights}>
          {state().lights === 'up' ? say`Lights down` : say`Lights up`}
        </Button>
      </header>
      <main class="start-main">
        <Scroller>
          <UnitBar />
          <Reports />
          <Show when={cases().length > 0} fallback={<Empty sheets={props.sheets.length} />}>
            <CaseList
              title={say`In progress`}
              cases={running()}
              none={say`No case is in progress.`}
            />
            <Show when={closed().length > 0}>
              <CaseList title={say`Closed`} cases={closed()} none="" />
            </Show>
          </Show>
          {props.practice}
        </Scroller>
      </main>
      <footer class="start-foot">
        <p class="quiet start-caution">
          {say`An aid. It says what it knows to be open; it never says that it is safe to close. Local policy,
            manufacturers' instructions and licensed practitioners decide.`}
        </p>
        <Button kind="plain" onPress={() => void session.go({ screen: 'library' })}>
          {say`Sheets`}
        </Button>
        <Show when={owed() > 0 || closed().some((one) => one.settled.length > 0)}>
          <Button kind="plain" onPress={() => void session.go({ screen: 'afterwards' })}>
            {say`Owed afterwards: ${owed()}`}
          </Button>
        </Show>
        <BringIn />
        <Button kind="primary" size={112} onPress={() => void session.go({ screen: 'opening' })}>
          {say`Start a case`}
        </Button>
      </footer>
    </div>
  );
}

function Empty(props: { readonly sheets: number }) {
  return (
    <section class="start-empty">
      <svg viewBox="0 0 360 90" class="start-beads" role="img" aria-label={say`A wire with beads`}>
        <line x1="0" y1="45" x2="360" y2="45" />
        <For each={[30, 52, 74, 96, 118]}>
          {(x) => <rect x={x} y="25" width="16" height="40" rx="8" data-tone="table" />}
        </For>
        <rect x="190" y="25" width="16" height="40" rx="8" data-tone="inside" />
        <For each={[270, 292, 314]}>
          {(x) => <rect x={x} y="25" width="16" height="40" rx="8" data-tone="off" />}
        </For>
      </svg>
      <div>
        <h2>{say`No case on this tablet yet`}</h2>
        <p>
          {say`Start one: choose the sheet, say who the patient is and who is in the team. The tablet then leads
            from sign in to sign out, and holds closure while something is open.`}
        </p>
        <p class="quiet">
          {props.sheets === 1
            ? say`1 sheet ready. Everything stays on this tablet and works without a network.`
            : say`${props.sheets} sheets ready. Everything stays on this tablet and works without a network.`}
        </p>
      </div>
    </section>
  );
}

function CaseList(props: {
  readonly title: string;
  readonly cases: readonly CaseSummary[];
  readonly none: string;
}) {
  return (
    <section class="start-list">
      <h2>{props.title}</h2>
      <Show when={props.cases.length > 0} fallback={<p class="quiet">{props.none}</p>}>
        <ul>
          <For each={props.cases}>{(one) => <CaseRow summary={one} />}</For>
        </ul>
      </Show>
    </section>
  );
}

function CaseRow(props: { readonly summary: CaseSummary }) {
  const view = useSession();
  const { session } = view;
  const open = () =>
    void session.go({
      screen: 'case',
      caseId: props.summary.caseId,
      view: { name: props.summary.finishedAt ? 'record' : 'frame' },
    });
  const isHidden = () => !props.summary.practice && view.state().unit.stage === 'locked';
  const state = () => {
    if (props.summary.isLocked) return say`Needs a PIN`;
    if (props.summary.damaged) return props.summary.damaged;
    return props.summary.finishedAt
      ? sayOf(verdictWords[props.summary.verdict])
      : say`Go on with it`;
  };
  return (
    <li>
      <button type="button" class="start-case" data-case={props.summary.caseId} onClick={open}>
        <strong>{isHidden() ? say`Patient hidden` : props.summary.patient}</strong>
        <span class="digits-type quiet">{isHidden() ? '' : props.summary.number}</span>
        <span>{props.summary.title}</span>
        <span class="quiet">{props.summary.startedAt && dateAndTime(props.summary.startedAt)}</span>
        <span class="start-verdict" data-verdict={props.summary.verdict}>
          {state()}
        </span>
      </button>
    </li>
  );
}

/** What recovery found, and how well the record is kept here. */
function Reports() {
  const { state } = useSession();
  const failure = () => {
    const { notice } = state();
    return notice?.kind === 'failed' ? notice.sentence : undefined;
  };
  return (
    <>
      <For each={state().reports}>
        {(report) => <p class="start-report">◆ {report.sentence}</p>}
      </For>
      <For each={state().device}>{(note) => <p class="start-report">◆ {note.sentence}</p>}</For>
      <Show when={state().persisted === false}>
        <p class="start-report">
          {say`◆ The browser has not promised to keep the record. Take each closed case out as a file; begin none in
            a private window, which keeps nothing.`}
        </p>
      </Show>
      <Show when={failure()}>
        {(sentence) => (
          <p class="start-report" role="alert">
            ▲ {sentence()}
          </p>
        )}
      </Show>
    </>
  );
}
