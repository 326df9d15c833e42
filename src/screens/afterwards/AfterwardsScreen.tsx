import { createMemo, createSignal, For, Show } from 'solid-js';
import { mostPressingFirst } from '#engine/case/owedAfter.ts';
import { daysSince } from '#engine/quantities.ts';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { dateWords } from '#words/dates.ts';
import { say } from '#words/say.ts';
import type { OwedCase, RecordKit, SettledCase } from '../recordKit.ts';
import { saveFile } from '../saveFile.ts';
import { useSession } from '../useSession.ts';
import { XrayDialog } from '../XrayDialog.tsx';
import { SettleDialog } from './SettleDialog.tsx';
import { WithdrawDialog } from './WithdrawDialog.tsx';
import { writeInto, writeWrong } from './writeInto.ts';
import './afterwards.css';

/**
 * Over all cases: films that nobody has read, then results that nobody has seen and what was left and must come out,
 * oldest first. Below them what was settled, newest first: a tap on the wrong patient must not take anything off the
 * list for good.
 */
export function AfterwardsScreen(props: { readonly record: RecordKit }) {
  const { session, state } = useSession();
  const [settling, setSettling] = createSignal<OwedCase>();
  const [withdrawing, setWithdrawing] = createSignal<SettledCase>();
  const over = () => state().cases.filter((one) => one.finishedAt !== undefined && !one.practice);
  const owed = createMemo((): readonly OwedCase[] =>
    over()
      .flatMap(({ owed: owes, settled: _, ...of }) => owes.map((one) => ({ ...of, ...one })))
      .sort(mostPressingFirst),
  );
  const settled = createMemo((): readonly SettledCase[] =>
    over()
      .flatMap(({ owed: _, settled: done, ...of }) => done.map((one) => ({ ...of, ...one })))
      .sort((one, other) => Date.parse(other.at) - Date.parse(one.at)),
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
        <p class="quiet">{say`Films and results that nobody has seen, and what must come out.`}</p>
      </header>
      <main class="start-main">
        <Scroller>
          <Show when={writeWrong()}>
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
          <Show when={settled().length > 0}>
            <SettledTable settled={settled()} onWithdraw={setWithdrawing} />
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
        {(one) => <Settling owed={one()} onClose={() => setSettling(undefined)} />}
      </Show>
      <Show when={withdrawing()}>
        {(one) => <WithdrawDialog settled={one()} onClose={() => setWithdrawing(undefined)} />}
      </Show>
    </div>
  );
}

/** By kind: what stands before its words, and on its key. */
const kinds = (): Readonly<Record<OwedCase['kind'], readonly [string, string]>> => ({
  film: [say`X-ray not read: `, say`Film read…`],
  result: [say`Result of `, say`Result seen…`],
  removal: [say`Must come out: `, say`Taken out…`],
});

function Settling(props: { readonly owed: OwedCase; readonly onClose: () => void }) {
  const view = useSession();
  const { caseId, patient, number } = props.owed;
  return (
    <Show
      when={props.owed.kind === 'film'}
      fallback={<SettleDialog owed={props.owed} onClose={props.onClose} />}
    >
      <XrayDialog
        sentence={say`${patient}, ${number}. Compare both with the film.`}
        onRead={(film) => void writeInto(view, { caseId, entry: () => film, by: film.readBy })}
        onClose={props.onClose}
      />
    </Show>
  );
}

function OwedTable(props: {
  readonly owed: readonly OwedCase[];
  readonly now: string;
  readonly onSettle: (one: OwedCase) => void;
}) {
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
              <td class="digits-type">{daysSince(one.since, props.now)}</td>
              <th scope="row">
                {kinds()[one.kind][0]}
                {one.words}
                <span class="quiet owed-plan">{one.plan}</span>
              </th>
              <PatientCell case={one} />
              <td>{one.who}</td>
              <td class="not-printed">
                <Button kind="plain" onPress={() => props.onSettle(one)}>
                  {kinds()[one.kind][1]}
                </Button>
              </td>
            </tr>
          )}
        </For>
      </tbody>
    </table>
  );
}

function SettledTable(props: {
  readonly settled: readonly SettledCase[];
  readonly onWithdraw: (one: SettledCase) => void;
}) {
  return (
    <section class="owed-settled not-printed">
      <h2>{say`Settled`}</h2>
      <table class="owed">
        <thead class="visually-hidden">
          <tr>
            <th scope="col">{say`What`}</th>
            <th scope="col">{say`Patient`}</th>
            <th scope="col">{say`Not so`}</th>
          </tr>
        </thead>
        <tbody>
          <For each={props.settled}>
            {(one) => (
              <tr>
                <th scope="row">
                  {one.words}
                  <span class="quiet owed-plan">
                    {dateWords(one.at)}: {one.text}
                  </span>
                </th>
                <PatientCell case={one} />
                <td>
                  <Button kind="plain" onPress={() => props.onWithdraw(one)}>
                    {say`Not so…`}
                  </Button>
                </td>
              </tr>
            )}
          </For>
        </tbody>
      </table>
    </section>
  );
}

function PatientCell(props: { readonly case: OwedCase | SettledCase }) {
  return (
    <td>
      <bdi>{props.case.patient}</bdi> <span class="digits-type">{props.case.number}</span>
      <span class="quiet owed-plan">
        {props.case.title}, {dateWords(props.case.startedAt)}
      </span>
    </td>
  );
}
