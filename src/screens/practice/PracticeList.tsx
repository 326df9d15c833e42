import { createResource, createSignal, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import type { Script } from '#practice/script.ts';
import type { SheetEntry } from '#session/sheetEntry.ts';
import type { CaseSummary } from '#session/state.ts';
import { dateAndTime } from '#words/dates.ts';
import { say, sayOf } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import type { LoadScripts } from './createPractice.ts';
import './PracticeList.css';

/** Practice on the first screen: what can be practised, and practice cases, apart from those of patients. */
export function PracticeList(props: {
  readonly load: LoadScripts;
  readonly sheets: readonly SheetEntry[];
}) {
  const { state } = useSession();
  const [scripts] = createResource(() => props.load());
  const cases = () => state().cases.filter((one) => one.practice);
  return (
    <section class="practice" aria-labelledby="practice-title">
      <div class="practice-head">
        <h2 id="practice-title">{say`Practice`}</h2>
        <p class="quiet">
          {say`An invented patient, told step by step; something goes missing. Every screen and print says that it
            is practice.`}
        </p>
      </div>
      <ul class="practice-scripts">
        <For each={scripts()}>
          {(script) => <ScriptCard script={script} sheets={props.sheets} />}
        </For>
      </ul>
      <Show when={cases().length > 0}>
        <h3>{say`Practice cases on this tablet`}</h3>
        <ul class="practice-cases">
          <For each={cases()}>{(one) => <PracticeRow summary={one} />}</For>
        </ul>
      </Show>
    </section>
  );
}

function ScriptCard(props: { readonly script: Script; readonly sheets: readonly SheetEntry[] }) {
  const { session } = useSession();
  const [isOpening, setOpening] = createSignal(false);
  const [isLost, setLost] = createSignal(false);
  const name = () => (isOpening() ? say`Being prepared…` : sayOf(props.script.name));
  const begin = async () => {
    const entry = props.sheets.find(({ id }) => id === props.script.sheet);
    if (!entry || isOpening()) return;
    setOpening(true);
    const sheet = await entry.load().catch(() => undefined); // said below
    setLost(sheet === undefined);
    const { patient, team, variants, prepared } = props.script;
    if (sheet) await session.begin({ sheet, patient, team, variants, practice: true }, prepared);
    setOpening(false);
  };
  return (
    <li>
      <button type="button" class="practice-script" onClick={() => void begin()}>
        <span class="practice-level digits-type" aria-hidden="true">
          {props.script.level}
        </span>
        <strong>{name()}</strong>
        <span class="quiet">
          {isLost()
            ? say`Its sheet could not be read. Start the program again.`
            : sayOf(props.script.about)}
        </span>
      </button>
    </li>
  );
}

function PracticeRow(props: { readonly summary: CaseSummary }) {
  const { session } = useSession();
  const [isAsked, setAsked] = createSignal(false);
  const isOver = () => props.summary.finishedAt !== undefined;
  const open = () =>
    void session.go({
      screen: 'case',
      caseId: props.summary.caseId,
      view: { name: isOver() ? 'debrief' : 'frame' },
    });
  const remove = () => {
    if (isAsked()) void session.removePractice(props.summary.caseId);
    setAsked(!isAsked());
  };
  return (
    <li class="practice-case">
      <button type="button" class="start-case" data-case={props.summary.caseId} onClick={open}>
        <strong>{say`Practice · ${props.summary.patient}`}</strong>
        <span class="digits-type quiet">{props.summary.number}</span>
        <span>{props.summary.title}</span>
        <span class="quiet">{dateAndTime(props.summary.startedAt)}</span>
        <span class="start-verdict">{isOver() ? say`What was caught` : say`Go on with it`}</span>
      </button>
      <Button kind={isAsked() ? 'danger' : 'plain'} onPress={remove}>
        {isAsked() ? say`Remove it for good` : say`Remove`}
      </Button>
    </li>
  );
}
