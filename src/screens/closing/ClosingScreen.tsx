import { createMemo, createSignal, Show } from 'solid-js';
import { closureOf } from '#engine/applies.ts';
import { gateState, holdsOf } from '#engine/closures/holdsOf.ts';
import { isLookAnswered, lookSteps } from '#engine/closures/isLookOpen.ts';
import { isCountDue, momentName } from '#engine/counts/countsDue.ts';
import type { Closure, Step } from '#engine/sheet.ts';
import type { Answer } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Headline } from '#parts/Headline.tsx';
import { StepList, type StepView } from '#parts/StepList.tsx';
import { say, sayInside } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { openCards } from '../holdCards.ts';
import { ReopenDialog } from '../ReopenDialog.tsx';
import { useCase, useSession } from '../useSession.ts';
import { whoWords } from '../whoWords.ts';
import { LookControls } from './LookControls.tsx';

/** Towards a closure: its count, the surgeon's last look, and asking to close. There is no way round a hold. */
export function ClosingScreen(props: { readonly closure: string }) {
  const { session } = useSession();
  const current = useCase();
  const closure = createMemo(() => closureOf(current(), props.closure));
  return (
    <Show
      when={closure()}
      fallback={
        <CaseShell
          name={say`Closing`}
          actions={
            <Button kind="primary" onPress={() => session.show({ name: 'frame' })}>
              {say`To the counting frame`}
            </Button>
          }
        >
          <h1>{say`This closure is not part of the case`}</h1>
        </CaseShell>
      }
    >
      {(known) => <Closing closure={known()} />}
    </Show>
  );
}

function Closing(props: { readonly closure: Closure }) {
  const { session } = useSession();
  const current = useCase();
  const [isReopening, setReopening] = createSignal(false);
  const state = createMemo(() => gateState(current(), props.closure.id));
  const open = createMemo(() => openCards(current(), holdsOf(current(), props.closure.id)).length);
  const ask = async () => {
    const outcome = await session.send(
      { type: 'close', closure: props.closure.id },
      current().team.surgeon,
    );
    if (outcome.ok) session.show({ name: 'frame' }, 'go-on');
  };
  return (
    <CaseShell
      name={props.closure.name}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`To the frame`}
          </Button>
          <Show
            when={state() !== 'done'}
            fallback={
              <Button kind="danger" onPress={() => setReopening(true)}>
                {say`Reopen…`}
              </Button>
            }
          >
            <CountButton closure={props.closure} />
            <Button kind="primary" size={112} onPress={() => void ask()}>
              {say`Ask to close`}
            </Button>
          </Show>
        </>
      }
    >
      <Headline
        before={props.closure.name}
        words={headline(state(), open())}
        tone={state() === 'held' ? 'held' : 'agreed'}
      />
      <LastLook closure={props.closure} isDone={state() === 'done'} />
      <Show when={isReopening()}>
        <ReopenDialog
          name={props.closure.name}
          sentence={say`Its closure and every later one are undone; the last look is asked again.`}
          command={(reason) => ({ type: 'reopen', closure: props.closure.id, reason })}
          by={current().team.surgeon}
          onClose={() => setReopening(false)}
        />
      </Show>
    </CaseShell>
  );
}

function headline(state: 'done' | 'held' | 'clear', open: number): string {
  if (state === 'done') return say`Closed.`;
  if (state === 'clear') return say`Nothing open that I know of.`;
  return open === 1
    ? say`Do not close yet. One thing is open.`
    : say`Do not close yet. ${open} things are open.`;
}

function CountButton(props: { readonly closure: Closure }) {
  const { session, can } = useSession();
  const current = useCase();
  const moment = () => props.closure.count;
  const isDue = createMemo(() => isCountDue(current(), moment()));
  const isOpen = () => Object.keys(current().differing).length > 0;
  // One that was broken off, or that something else is in the way of, is explained before it begins.
  const begins = () =>
    isDue() &&
    !isOpen() &&
    current().counts.broken === undefined &&
    can({ type: 'beginCount', moment: moment() });
  const words = () => {
    if (isOpen() && !isDue()) return say`Recount`;
    const name = momentName(current(), moment());
    return begins() ? say`Begin the ${sayInside(name)}` : name;
  };
  const press = () => {
    if (begins()) void session.send({ type: 'beginCount', moment: moment() }, 'circulator');
    else if (isOpen() && !isDue()) session.show({ name: 'recount' });
    else session.show({ name: 'count', about: moment() });
  };
  return (
    <Button kind={isDue() || isOpen() ? 'primary' : 'plain'} onPress={press}>
      {words()}
    </Button>
  );
}

function LastLook(props: { readonly closure: Closure; readonly isDone: boolean }) {
  const current = useCase();
  const [chosen, setChosen] = createSignal<string>();
  const steps = createMemo(() => lookSteps(current(), props.closure));
  const answers = () => current().looks[props.closure.id] ?? {};
  const here = createMemo(() => {
    if (props.isDone) return undefined;
    const picked = steps().find((step) => step.id === chosen());
    return picked ?? steps().find((step) => !isLookAnswered(step, answers()[step.id]));
  });
  const views = createMemo(() =>
    steps().map((step) => viewOf(step, answers()[step.id], here()?.id)),
  );
  return (
    <>
      <Show when={steps().length > 0} fallback={<p class="quiet">{say`Nothing is asked here.`}</p>}>
        <StepList
          title={say`The surgeon's last look`}
          sentence={say`${current().team.surgeon} answers`}
          steps={views()}
          onOpen={setChosen}
        >
          <Show when={here()} keyed>
            {(step) => (
              <LookControls
                closure={props.closure}
                step={step}
                onAnswered={() => setChosen(undefined)}
              />
            )}
          </Show>
        </StepList>
      </Show>
      <Show when={!props.isDone}>
        <p class="quiet">{say`Anything that changes what is inside asks these again.`}</p>
      </Show>
    </>
  );
}

function viewOf(step: Step, answer: Answer | undefined, here: string | undefined): StepView {
  const bare = { id: step.id, who: whoWords(step.who), words: step.ask };
  if (step.id === here) return { ...bare, state: 'here', answer: answerWords(step, answer) };
  if (!answer) return { ...bare, state: 'ahead' };
  const words = answerWords(step, answer);
  if (answer.kind === 'open') return { ...bare, state: 'open', answer: words };
  if (answer.kind === 'not-applicable') return { ...bare, state: 'not-applicable', answer: words };
  const state = step.stopOn.includes(answer.value) ? 'stopped' : 'done';
  return { ...bare, state, answer: words };
}

function answerWords(step: Step, answer: Answer | undefined): string | undefined {
  if (!answer) return undefined;
  if (answer.kind === 'open') return `${answer.name}: ${answer.reason}`;
  if (answer.kind === 'not-applicable') return answer.reason;
  const { answering } = step;
  if (answering.kind === 'choice')
    return answering.options.find((option) => option.id === answer.value)?.name ?? answer.value;
  if (answering.kind === 'confirm') return answer.value === 'yes' ? say`Yes` : say`No`;
  return answer.value;
}
