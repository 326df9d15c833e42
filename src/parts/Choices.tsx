import { For } from 'solid-js';

export type Choice = { readonly id: string; readonly name: string; readonly detail?: string };

export type ChoicesProps = {
  readonly label: string;
  readonly choices: readonly Choice[];
  readonly chosen?: string | readonly string[] | undefined;
  readonly onChoose: (id: string) => void;
};

/** Big buttons of which one is, or several are, chosen. */
export function Choices(props: ChoicesProps) {
  const isChosen = (id: string) =>
    Array.isArray(props.chosen) ? props.chosen.includes(id) : props.chosen === id;
  return (
    <fieldset class="choices">
      <legend>{props.label}</legend>
      <div class="choices-grid">
        <For each={props.choices}>
          {(choice) => (
            <button
              type="button"
              class="choice"
              data-choice={choice.id}
              aria-pressed={isChosen(choice.id)}
              onClick={() => props.onChoose(choice.id)}
            >
              <strong>{choice.name}</strong>
              {choice.detail ? <span>{choice.detail}</span> : null}
            </button>
          )}
        </For>
      </div>
    </fieldset>
  );
}
