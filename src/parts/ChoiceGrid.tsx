import { For, Show } from 'solid-js';
import './ChoiceGrid.css';

export type Choice = {
  readonly id: string;
  readonly name: string;
  readonly detail?: string | undefined;
  /** It stops the checkpoint, or cannot be taken back. */
  readonly isDanger?: boolean | undefined;
};

export type ChoiceGridProps = {
  /** What is chosen, for a screen reader. */
  readonly label: string;
  readonly choices: readonly Choice[];
  /** Those chosen so far. Without it, a tap is the answer and nothing stays pressed. */
  readonly chosen?: readonly string[] | undefined;
  readonly onChoose: (id: string) => void;
  /** Few and short: how many packs. They stand closer together. */
  readonly isNarrow?: boolean | undefined;
  /** With much to say of each. */
  readonly isWide?: boolean | undefined;
};

/** Large buttons, one for each answer. */
export function ChoiceGrid(props: ChoiceGridProps) {
  const pressed = (id: string) =>
    props.chosen === undefined ? undefined : (`${props.chosen.includes(id)}` as const);
  return (
    <fieldset
      class="choices"
      data-narrow={props.isNarrow ? 'yes' : 'no'}
      data-wide={props.isWide ? 'yes' : 'no'}
    >
      <legend class="visually-hidden">{props.label}</legend>
      <For each={props.choices}>
        {(choice) => (
          <button
            type="button"
            class="choice"
            data-choice={choice.id}
            data-danger={choice.isDanger ? 'yes' : 'no'}
            aria-pressed={pressed(choice.id)}
            onClick={() => props.onChoose(choice.id)}
          >
            <span class="choice-name">{choice.name}</span>
            <Show when={choice.detail}>
              <span class="choice-detail">{choice.detail}</span>
            </Show>
          </button>
        )}
      </For>
    </fieldset>
  );
}
