import { createMemo, createUniqueId, type JSX, Show } from 'solid-js';
import './Button.css';

export type ButtonProps = {
  /** `danger` is dashed: an act that cannot be taken back, or that stops the team. */
  readonly kind: 'primary' | 'plain' | 'danger' | 'quiet';
  /** Height in pixels: 112 for what is irreversible. */
  readonly size?: 64 | 112 | undefined;
  /** A short second line. */
  readonly detail?: string | undefined;
  /** Why it cannot be done now, in a sentence. It is shown, and a tap does nothing. */
  readonly whyNot?: string | undefined;
  /** For a button that stays pressed. */
  readonly isPressed?: boolean | undefined;
  readonly onPress: () => void;
  readonly children: JSX.Element;
};

/** A button. One that cannot be used keeps its place and its focus, and says why. */
export function Button(props: ButtonProps) {
  const reasonId = createUniqueId();
  // Read here and not in the tap: what a tap reads is computed for nobody, and goes on for ever, after the screen too.
  const whyNot = createMemo(() => props.whyNot);
  const press = () => {
    if (whyNot() === undefined) props.onPress();
  };
  const pressed = () =>
    props.isPressed === undefined ? undefined : (`${props.isPressed}` as const);
  return (
    <button
      type="button"
      class="button"
      data-kind={props.kind}
      data-size={props.size ?? 64}
      aria-disabled={whyNot() === undefined ? undefined : 'true'}
      aria-describedby={whyNot() === undefined ? undefined : reasonId}
      aria-pressed={pressed()}
      onClick={press}
    >
      <span class="button-label">{props.children}</span>
      <Show when={whyNot() ?? props.detail}>
        {(words) => (
          <span class="button-detail" id={reasonId} aria-hidden={whyNot() ? 'true' : undefined}>
            {words()}
          </span>
        )}
      </Show>
    </button>
  );
}
