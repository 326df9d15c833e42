import { For, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Mark } from './Mark.tsx';
import { createRows } from './rows.ts';
import './Steps.css';

export type NumberedStep = {
  readonly id: string;
  /** Search the wound and the field. */
  readonly words: string;
  readonly state: 'done' | 'here' | 'ahead' | 'skipped';
  /** Who does it; once done, when and by whom; skipped, why not. */
  readonly says?: string | undefined;
};

export type StepsProps = {
  readonly label: string;
  readonly steps: readonly NumberedStep[];
  /** Buttons of the step of the moment. */
  readonly children?: JSX.Element;
};

/** Steps in a fixed order, numbered, with a tick for what is done: the way through a discrepancy. */
export function Steps(props: StepsProps) {
  const rows = createRows(() => props.steps);
  return (
    <ol class="numbered" aria-label={props.label}>
      <For each={rows.ids()}>
        {(id, index) => (
          <li
            class="numbered-step"
            data-step={id}
            data-state={rows.row(id)?.state}
            aria-current={rows.row(id)?.state === 'here' ? 'step' : undefined}
          >
            <span class="numbered-box digits-type">
              <Show when={rows.row(id)?.state === 'done'} fallback={index() + 1}>
                <Mark shape="agreed" />
                <span class="visually-hidden">{say`done:`} </span>
              </Show>
            </span>
            <span class="numbered-words">{rows.row(id)?.words}</span>
            <span class="numbered-says">
              <Show when={rows.row(id)?.state === 'skipped'}>{say`Not done:`} </Show>
              {rows.row(id)?.says}
            </span>
            <Show when={rows.row(id)?.state === 'here'}>
              <div class="numbered-controls">{props.children}</div>
            </Show>
          </li>
        )}
      </For>
    </ol>
  );
}
