import { createMemo, createSignal, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { dateWords } from '#words/dates.ts';
import { say } from '#words/say.ts';
import type { OwedCase, RecordKit } from '../recordKit.ts';
import { saveFile } from '../saveFile.ts';
import { useSession } from '../useSession.ts';
import { SettleDialog, settleWrong } from './SettleDialog.tsx';
import './afterwards.css';

/** Over all cases: results that nobody has seen, and what was left and must come out. Oldest first. */
export function AfterwardsScreen(props: { readonly record: RecordKit }) {
  const { session, state } = useSession();
  const [settling, setSettling] = createSignal<OwedCase>();
  const owed = createMemo((): readonly OwedCase[] =>
    state()
      .cases.filter((one) => one.finishedAt !== undefined && !one.practice)
      .flatMap(({ owed: owes, caseId, patient, number, title, startedAt }) =>
        owes.map((one) => ({ ...one, caseId, patient, number, title, startedAt })),
      )
      .sort((one, other) => Date.parse(one.since) - Date.parse(other.since)),
  );
  const locked = () => state().cases.filter((one) => one.isLocked).length;
  const take = () => {
    const { text, name, type } = props.record.owedTable(owed(), session.now());
    saveFile(text, name, type);
  };
  return (
    <div class="start afterwards">
      <header class="start-head">
        <h1>{say`Owed afterwards`}</h1>
        <p class="quiet">{say`Results that nobody has seen, and what must come out.`}</p>
      </header>
      <main class="start-main">
        <Scroller>
          <Show when={settleWrong()}>
            {(sentence) => (
              <p class="start-report" role="alert">
                ▲ {sentence()}
              </p>
            )}
          </Show>
          <Show when={locked() > 0}>
            <p class="start-report">
              {locked() === 1
                ? say`◆ One case is locked and not in this list.`
                : say`◆ ${locked()} cases are locked and not in this list.`}
            </p>
          </Show>
          <Show
            when={owed().length > 0}
            fallback={<p>{say`Nothing that this tablet knows of.`}</p>}
          >
            <OwedTable owed={owed()} now={session.now()} onSettle={setSettling} />
          </Show>
          <p class="quiet">
            {say`This list knows the cases on this tablet only. It replaces no letter and no register.`}
          </p>
        </Scroller>
      </main>
      <footer class="start-foot">
        <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
          {say`Back`}
        </Button>
        <Button kind="plain" onPress={take}>
          {say`Take out as a table`}
        </Button>
        <Button kind="primary" onPress={() => window.print()}>
          {say`Print`}
        </Button>
      </footer>
      <Show when={settling()}>
        {(one) => <SettleDialog owed={one()} onClose={() => setSettling(undefined)} />}
      </Show>
    </div>
  );
}

function OwedTable(props: {
  readonly owed: readonly OwedCase[];
  readonly now: string;
  readonly onSettle: (one: OwedCase) => void;
}) {
  const days = (since: string) =>
    Math.max(0, Math.floor((Date.parse(props.now) - Date.parse(since)) / 86_400_000));
  return (
    <table class="owed">
      <thead>
        <tr>
          <th scope="col">{say`Days`}</th>
          <th scope="col">{say`What`}</th>
          <th scope="col">{say`Patient`}</th>
          <th scope="col">{say`Who looks`}</th>
          <th scope="col" class="not-printed">
            <span class="visually-hidden">{say`Settle`}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        <For each={props.owed}>
          {(one) => (
            <tr data-kind={one.kind}>
              <td class="digits-type">{days(one.since)}</td>
              <th scope="row">
                {one.kind === 'result' ? say`Result of ` : say`Must come out: `}
                {one.words}
                <span class="quiet owed-plan">{one.plan}</span>
              </th>
              <td>
                <bdi>{one.patient}</bdi> <span class="digits-type">{one.number}</span>
                <span class="quiet owed-plan">
                  {one.title}, {dateWords(one.startedAt)}
                </span>
              </td>
              <td>{one.who}</td>
              <td class="not-printed">
                <Button kind="plain" onPress={() => props.onSettle(one)}>
                  {one.kind === 'result' ? say`Result seen…` : say`Taken out…`}
                </Button>
              </td>
            </tr>
          )}
        </For>
      </tbody>
    </table>
  );
}
