import { createMemo, For, Index, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Mark } from '#parts/Mark.tsx';
import { say } from '#words/say.ts';
import { clocksOf } from '../clocks.ts';
import { type HoldCard, waitingOf } from '../holdCards.ts';
import { useCase, useSession } from '../useSession.ts';
import './wall.css';
import { insideKinds, isBlindNow, phaseOf } from './wallOf.ts';

/** Holds that find room in letters to be read from afar. */
const most = 4;

/**
 * The case as it is read from two metres, or on a wall: patient, phase, what is inside, what holds, the clocks.
 * It takes no entry; one tap leads back. While a count runs it says no number of a piece.
 */
export function WallScreen() {
  const { session, state, now } = useSession();
  const current = useCase();
  const waiting = createMemo(() => waitingOf(current(), state().notSaved));
  const open = () => waiting().open;
  const isBlind = () => isBlindNow(current());
  const clocks = () => clocksOf(current(), now(), state().savedAt);
  return (
    <main class="wall" data-held={open().length > 0 ? 'yes' : 'no'}>
      <header class="wall-head">
        <h1 class="wall-patient">{current().patient.name}</h1>
        <p class="wall-who">
          <span class="digits-type">{current().patient.number}</span>
          <span>{current().sheet.title}</span>
          <Show when={current().practice}>
            <strong class="wall-practice">{say`Practice case`}</strong>
          </Show>
        </p>
        <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
          {say`Back to the case`}
        </Button>
      </header>
      <section class="wall-inside" aria-label={say`In the patient`}>
        <h2>{say`In the patient`}</h2>
        <Show when={!isBlind()} fallback={<Blind />}>
          <Inside />
        </Show>
      </section>
      <section class="wall-state" aria-label={say`Where the case is`}>
        <p class="wall-phase">{phaseOf(current())}</p>
        <dl class="wall-clocks">
          <Index each={clocks()}>
            {(clock) => (
              <div data-tone={clock().tone}>
                <dd class="digits-type">{clock().value}</dd>
                <dt>{clock().label}</dt>
              </div>
            )}
          </Index>
        </dl>
        <h2 class="wall-title">{waiting().title}</h2>
        <Show
          when={!isBlind()}
          fallback={<p>{say`What holds is said when the count is agreed.`}</p>}
        >
          <Holds open={open()} sentence={waiting().sentence} />
        </Show>
      </section>
    </main>
  );
}

function Inside() {
  const current = useCase();
  const kinds = createMemo(() => insideKinds(current()));
  return (
    <Show
      when={kinds().length > 0}
      fallback={<p class="wall-none">{say`Nothing that the record knows of.`}</p>}
    >
      <ul class="wall-kinds">
        <For each={kinds()}>
          {(kind) => (
            <li class="wall-kind" data-kind={kind.kind}>
              <span class="wall-number digits-type">{kind.n}</span>
              <span class="wall-kind-words">
                <strong>{kind.name}</strong>
                <span>{kind.lines}</span>
              </span>
            </li>
          )}
        </For>
      </ul>
    </Show>
  );
}

function Blind() {
  return (
    <p class="wall-none">
      {say`Being counted. What the record expects is on no screen until both agree.`}
    </p>
  );
}

function Holds(props: { readonly open: readonly HoldCard[]; readonly sentence: string }) {
  return (
    <>
      <p class="wall-sentence">{props.sentence}</p>
      <ul class="wall-holds">
        <For each={props.open.slice(0, most)}>
          {(card) => (
            <li data-tone={card.tone}>
              <Mark shape={card.tone} />
              {card.title}
            </li>
          )}
        </For>
      </ul>
      <Show when={props.open.length > most}>
        <p>{say`And ${props.open.length - most} more.`}</p>
      </Show>
    </>
  );
}
