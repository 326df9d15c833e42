import { For, Show } from 'solid-js';
import { Button } from './Button.tsx';
import './WireActions.css';

export type WireAction = {
  readonly id: string;
  /** The turn or act as it is said aloud: Placed, Tied, Breaks. */
  readonly label: string;
  readonly detail?: string | undefined;
  readonly kind?: 'plain' | 'danger' | undefined;
  readonly whyNot?: string | undefined;
  readonly onDo: () => void;
};

export type WireActionsProps = {
  /** The line that is selected. */
  readonly name: string;
  readonly detail?: string | undefined;
  readonly actions: readonly WireAction[];
  /** Puts the ordinary foot back. */
  readonly onDone: () => void;
};

/**
 * What else can be done with the selected wire: the foot's `over`. A row that opened under the wire
 * would push the wires below from under a finger, and the foot is where a hand looks for buttons.
 * It grows upwards over the frame when the buttons need two rows, so that nothing moves.
 */
export function WireActions(props: WireActionsProps) {
  return (
    <fieldset class="wire-actions">
      <legend class="visually-hidden">Actions for {props.name}</legend>
      <p class="wire-actions-name">
        <strong>{props.name}</strong>
        <Show when={props.detail}>
          <span>{props.detail}</span>
        </Show>
      </p>
      <div class="wire-actions-row">
        <For each={props.actions}>
          {(action) => (
            <Button
              kind={action.kind ?? 'plain'}
              detail={action.detail}
              whyNot={action.whyNot}
              onPress={action.onDo}
            >
              {action.label}
            </Button>
          )}
        </For>
        <Button kind="quiet" onPress={() => props.onDone()}>
          Done
        </Button>
      </div>
    </fieldset>
  );
}
