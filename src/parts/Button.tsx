import { createUniqueId, type JSX, Show } from 'solid-js';
import './Button.css';

type ButtonProps = {
  readonly children: JSX.Element;
  /** `danger` is dashed: it is for what cannot be taken back lightly. */
  readonly kind?: 'primary' | 'plain' | 'danger' | 'quiet';
  /** `act` is 112 px, for irreversible acts; `touch` is 64 px. */
  readonly size?: 'touch' | 'act';
  /** Why it cannot be pressed now, in a sentence. It stays reachable, and a tap says the sentence. */
  readonly blocked?: string | undefined;
  readonly onPress: () => void;
  /** Called instead of `onPress` while it is blocked. */
  readonly onBlocked?: (sentence: string) => void;
  /** For a button that is on or off. */
  readonly pressed?: boolean | undefined;
  /** A fuller name than the words on it. */
  readonly spoken?: string | undefined;
};

/** One button. Pressed is shown at once; what comes of it is not this part's to know. */
export function Button(props: ButtonProps) {
  const reasonId = createUniqueId();
  const press = () => {
    if (props.blocked === undefined) props.onPress();
    else props.onBlocked?.(props.blocked);
  };
  return (
    <button
      type="button"
      class="button"
      data-kind={props.kind ?? 'plain'}
      data-size={props.size ?? 'touch'}
      aria-disabled={props.blocked === undefined ? undefined : 'true'}
      aria-describedby={props.blocked === undefined ? undefined : reasonId}
      aria-pressed={props.pressed}
      aria-label={props.spoken}
      onClick={press}
    >
      {props.children}
      <Show when={props.blocked}>
        {(sentence) => (
          <span id={reasonId} class="visually-hidden">
            {sentence()}
          </span>
        )}
      </Show>
    </button>
  );
}
