import { For, Show } from 'solid-js';
import { say } from '#words/say.ts';
import './WireActions.css';

export type WireAction = {
  readonly id: string;
  /** The turn or act as it is said aloud: Placed, Tied, Stays. */
  readonly label: string;
  readonly detail?: string | undefined;
  /** Why it cannot be done now, in a sentence; a tap does nothing. */
  readonly whyNot?: string | undefined;
  readonly onDo: () => void;
};

export type WireActionsProps = {
  /** The line in hand. */
  readonly name: string;
  readonly actions: readonly WireAction[];
  /** Opens what is done seldom, or needs words. */
  readonly onMore: () => void;
};

/**
 * What else can be done with the wire in hand, under the words of the last entry. A row that opened under the wire
 * would push the wires below from under a finger, and the foot is where a hand looks for buttons; the buttons that
 * stand there always stay where they are.
 */
export function WireActions(props: WireActionsProps) {
  return (
    <fieldset class="wire-actions">
      <legend class="visually-hidden">{say`Actions for ${props.name}`}</legend>
      <For each={props.actions}>
        {(action) => (
          <button
            type="button"
            class="wire-action"
            aria-disabled={action.whyNot === undefined ? undefined : 'true'}
            onClick={() => action.whyNot === undefined && action.onDo()}
          >
            {action.label}
            <Show when={action.whyNot ?? action.detail}>
              {(words) => <span class="wire-action-detail">{words()}</span>}
            </Show>
          </button>
        )}
      </For>
      <button
        type="button"
        class="wire-action wire-action-more"
        aria-label={say`Other acts for ${props.name}`}
        onClick={() => props.onMore()}
      >
        {say`Other…`}
      </button>
    </fieldset>
  );
}
