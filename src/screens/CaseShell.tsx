import { createMemo, type JSX, Match, Show, Switch } from 'solid-js';
import { entryWords } from '#engine/case/entryWords.ts';
import { stationsOf } from '#engine/case/stationsOf.ts';
import { allergiesOf } from '#engine/checkpoints/allergiesOf.ts';
import type { Refusal } from '#engine/refusals.ts';
import type { Case } from '#engine/state.ts';
import { Band } from '#parts/Band.tsx';
import { Button } from '#parts/Button.tsx';
import { Foot, type FootEntry } from '#parts/Foot.tsx';
import { HoldList } from '#parts/HoldList.tsx';
import { Notice } from '#parts/Notice.tsx';
import { sameFields } from '#parts/rows.ts';
import { Scroller } from '#parts/Scroller.tsx';
import { Shell } from '#parts/Shell.tsx';
import { Spine } from '#parts/Spine.tsx';
import type { Notice as Said, SessionState } from '#session/state.ts';
import { say, sayOf } from '#words/say.ts';
import { useCaseScans } from './caseScans.ts';
import { type ClockView, clocksOf } from './clocks.ts';
import { createSettled } from './createSettled.ts';
import { DeviceNotice } from './DeviceNotice.tsx';
import { FollowsNotice } from './FollowsNotice.tsx';
import { doneCards, dueCards, type HoldCard, waitingOf } from './holdCards.ts';
import { PaperNotice } from './PaperNotice.tsx';
import { viewOfStation } from './stationViews.ts';
import { UnlockHere } from './UnlockHere.tsx';
import { useCase, useCaseFields, useSession } from './useSession.ts';
import { bornShown } from './veiled.ts';

export type CaseShellProps = {
  readonly children: JSX.Element;
  /** What the main part is called for those who do not see it. */
  readonly name: string;
  /** It keeps to the room it has, and turns its own pages. */
  readonly fits?: boolean;
  /** The few actions of the moment. */
  readonly actions?: JSX.Element;
  /** What can be done with the wire in hand. */
  readonly hand?: JSX.Element;
  /** Instead of the holds, where a screen has more to say. */
  readonly aside?: JSX.Element;
  readonly asideLabel?: string;
  /** Instead of the whole foot: the digits of a count. */
  readonly foot?: JSX.Element;
};

/** What is around every screen of a case: who, where in the case, what holds, what was entered last. */
export function CaseShell(props: CaseShellProps) {
  const hasOwnFoot = 'foot' in props; // where the digits are, there is no room beside them
  return (
    <Shell
      band={<CaseBand />}
      spine={<CaseSpine />}
      aside={
        <>
          {props.aside ?? <CaseHolds />}
          <Show when={hasOwnFoot}>
            <div class="save-aside">
              <SaveAgain />
            </div>
          </Show>
        </>
      }
      asideLabel={props.asideLabel ?? say`What holds`}
      foot={props.foot ?? <CaseFoot hand={props.hand}>{props.actions}</CaseFoot>}
      notice={<CaseNotice />}
    >
      <section class="case-main" data-fits={props.fits ? 'yes' : 'no'} aria-label={props.name}>
        <Show when={!props.fits} fallback={props.children}>
          <Scroller>{props.children}</Scroller>
        </Show>
      </section>
    </Shell>
  );
}

/** They tick each second and show minutes. */
const sameClocks = (one: readonly ClockView[], other: readonly ClockView[]): boolean =>
  one.length === other.length && one.every((clock, n) => sameFields(clock, other[n] ?? clock));

const sameAllergies = (one: unknown, other: unknown): boolean => `${one}` === `${other}`;

function CaseBand() {
  const { session, state, now } = useSession();
  const current = useCaseFields();
  const patient = createSettled(
    () => ({ ...current().patient, born: bornShown(current().patient) }),
    sameFields,
  );
  const allergies = createMemo(() => allergiesOf(current()), undefined, { equals: sameAllergies });
  const procedure = createMemo(() => current().sheet.title);
  const isPractice = createMemo(() => current().practice);
  const clocks = createSettled(() => clocksOf(current(), now(), state().savedAt), sameClocks);
  return (
    <Band
      patient={patient()}
      allergies={allergies()}
      procedure={procedure()}
      notSaved={state().notSaved}
      clocks={clocks()}
      lights={state().lights}
      onLights={session.toggleLights}
      onFar={() => session.show({ name: 'wall' })}
      practice={isPractice()}
    />
  );
}

function CaseSpine() {
  const { session } = useSession();
  const current = useCaseFields();
  const open = (id: string) => {
    const station = stationsOf(current()).find((one) => one.id === id);
    if (station) session.show(viewOfStation(station));
  };
  const stations = createMemo(() =>
    stationsOf(current()).map(({ id, name, state: where, at }) => ({
      id,
      name,
      state: where,
      ...(at === undefined ? {} : { at: at.slice(11, 16) }),
    })),
  );
  return <Spine stations={stations()} onOpen={open} />;
}

/** What stands between now and the next act that cannot be taken back. */
function CaseHolds() {
  const { session, trouble, now } = useSession();
  const current = useCase();
  const fields = useCaseFields();
  const waiting = createMemo(() => waitingOf(current(), trouble().notSaved));
  const due = createMemo(() => dueCards(fields(), now()), undefined, { equals: sameCards });
  const done = createMemo(() => doneCards(fields()));
  const cards = () => [...waiting().open, ...due(), ...done()];
  // A memo: the list asks for them three times.
  const holds = createMemo(() =>
    cards().map(({ view, ...card }) => ({ ...card, opens: view !== undefined })),
  );
  const open = (id: string) => {
    const view = cards().find((card) => card.id === id)?.view;
    if (view) session.show(view);
  };
  return (
    <>
      <UnlockHere />
      <HoldList
        title={waiting().title}
        sentence={waiting().sentence}
        holds={holds()}
        onOpen={open}
      />
    </>
  );
}

/** The clock ticks each second; the cards change with the minute at most. */
const sameCards = (one: readonly HoldCard[], other: readonly HoldCard[]): boolean =>
  one.map(({ id, title }) => id + title).join() === other.map(({ id, title }) => id + title).join();

/** What was entered last, in words. */
function lastEntry(current: Case, { last }: SessionState): FootEntry | undefined {
  const event = last?.events.at(-1);
  return (
    event && { entry: last?.seq ?? 0, at: event.at.slice(11, 19), ...entryWords(current, event) }
  );
}

/** The last entry with its take-back, and the actions of the screen. */
function CaseFoot(props: { readonly children: JSX.Element; readonly hand?: JSX.Element }) {
  const { state } = useSession();
  const current = useCase();
  const last = createMemo(() => lastEntry(current(), state()));
  return (
    <Foot last={last()} back={<TakeBack />} hand={props.hand}>
      <SaveAgain />
      {props.children}
    </Foot>
  );
}

/** Offers an entry that is not saved again. It is on every screen of a case: nothing else is taken until then. */
function SaveAgain() {
  const { session, trouble } = useSession();
  return (
    <Show when={trouble().notSaved}>
      <Button kind="danger" onPress={() => void session.retry()}>
        {say`Save again`}
      </Button>
    </Show>
  );
}

/** Takes back the last entry, where that can be taken back. */
function TakeBack() {
  const { session, can } = useSession();
  const canTakeBack = createMemo(() => can({ type: 'correct', last: 1 }));
  return (
    <Button
      kind="plain"
      whyNot={canTakeBack() ? undefined : say`Nothing to take back`}
      onPress={() => void session.send({ type: 'correct', last: 1 })}
    >
      {say`Take back`}
    </Button>
  );
}

function CaseNotice() {
  const { session, state } = useSession();
  const scans = useCaseScans();
  const scanned = () => (scans.said()?.isOver ? undefined : scans.said());
  return (
    <Switch
      fallback={
        <Show when={state().device.length === 0} fallback={<DeviceNotice />}>
          <PaperNotice />
        </Show>
      }
    >
      <Match when={scanned()}>
        {(said) => (
          <Notice kind="said" sentence={said().sentence} onDismiss={() => scans.dismiss()} />
        )}
      </Match>
      <Match when={state().notice}>
        {(notice) => (
          <Notice
            kind={notice().kind}
            sentence={sentenceOf(notice())}
            whatToDo={whatToDoOf(notice())}
            onDismiss={session.dismiss}
          />
        )}
      </Match>
      <Match when={state().unread[0]}>
        {(report) => (
          <Notice kind="said" sentence={report().sentence} onDismiss={session.heedReport} />
        )}
      </Match>
      <Match when={state().follows}>
        <FollowsNotice />
      </Match>
    </Switch>
  );
}

function sentenceOf(notice: Said): string {
  if (notice.kind === 'failed') return notice.sentence;
  if (notice.kind === 'said') return notice.sentences.join(' ');
  const { code, sentence, detail } = notice.refusal;
  return detail && code !== 'held' ? `${sentence} (${sayOf(detail)})` : sentence;
}

const whatToDoOf = (notice: Said): string | undefined =>
  notice.kind === 'refused' ? todo(notice.refusal) : undefined;

const todo = ({ code, whatToDo }: Refusal): string =>
  code === 'held' ? say`Settle what stands in the list.` : whatToDo;
