import { createMemo, For, type JSX, Show } from 'solid-js';
import { keepInSight } from './keepInSight.ts';
import { Mark, type MarkShape } from './Mark.tsx';
import { createRows } from './rows.ts';
import { Scroller } from './Scroller.tsx';
import './StepList.css';

export type StepState = 'done' | 'here' | 'ahead' | 'not-applicable' | 'open' | 'stopped';

export type StepView = {
  readonly id: string;
  /** Who answers. */
  readonly who: string;
  /** What is read aloud. */
  readonly words: string;
  /** `open` is left open in an emergency; `stopped` is an answer that stops the checkpoint. */
  readonly state: StepState;
  /** The answer in words. */
  readonly answer?: string | undefined;
};

export type StepListProps = {
  /** The checkpoint. */
  readonly title: string;
  /** Circulator reads aloud, everyone stops. */
  readonly sentence?: string | undefined;
  readonly steps: readonly StepView[];
  /** The controls that answer the step of the moment, 64 px and more. */
  readonly children: JSX.Element;
  /** Goes to a step that is not the one of the moment. */
  readonly onOpen?: ((id: string) => void) | undefined;
};

/** The steps of a checkpoint: who answers, what is read aloud, the answer. The one of the moment is large. */
export function StepList(props: StepListProps) {
  const rows = createRows(() => props.steps);
  const here = createMemo(() => props.steps.find((step) => step.state === 'here')?.id);
  const place = keepInSight(here);
  return (
    <section class="steps">
      <header class="steps-head">
        <h1 class="steps-title">{props.title}</h1>
        <p class="steps-sentence">{props.sentence}</p>
      </header>
      <Scroller isHeld={here() !== undefined}>
        <ol class="steps-list">
          <For each={rows.ids()}>
            {(id) => (
              <li
                class="step"
                data-stop
                data-step={id}
                data-state={rows.row(id)?.state}
                aria-current={rows.row(id)?.state === 'here' ? 'step' : undefined}
                ref={(element) => place(id, element)}
              >
                <Show
                  when={rows.row(id)?.state === 'here'}
                  fallback={<OtherStep step={rows.row(id)} onOpen={props.onOpen} />}
                >
                  <div class="step-now">
                    <span class="step-who">{rows.row(id)?.who}</span>
                    <span class="step-words">{rows.row(id)?.words}</span>
                    <div class="step-controls">{props.children}</div>
                  </div>
                </Show>
              </li>
            )}
          </For>
        </ol>
      </Scroller>
    </section>
  );
}

function OtherStep(props: {
  readonly step: StepView | undefined;
  readonly onOpen: ((id: string) => void) | undefined;
}) {
  return (
    <Show
      when={props.step?.state !== 'ahead' && props.onOpen}
      fallback={
        <div class="step-face">
          <StepWords step={props.step} />
        </div>
      }
    >
      {(open) => (
        <button type="button" class="step-face" onClick={() => props.step && open()(props.step.id)}>
          <StepWords step={props.step} />
        </button>
      )}
    </Show>
  );
}

const marks: Readonly<Record<StepState, MarkShape>> = {
  done: 'agreed',
  here: 'none',
  ahead: 'none',
  'not-applicable': 'none',
  open: 'open',
  stopped: 'missing',
};

function StepWords(props: { readonly step: StepView | undefined }) {
  return (
    <>
      <span class="step-who">{props.step?.who}</span>
      <span class="step-words">{props.step?.words}</span>
      <span class="step-answer">
        <Show when={props.step?.answer}>
          <Mark shape={marks[props.step?.state ?? 'ahead']} />
          <span>{props.step?.answer}</span>
        </Show>
      </span>
    </>
  );
}
