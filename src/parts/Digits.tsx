import { createEffect, createMemo, Index, onCleanup, onMount } from 'solid-js';
import { say } from '#words/say.ts';
import { createDigits } from './createDigits.ts';
import './Digits.css';

export type DigitsProps = {
  /** A whole number, 0 to 999. The count moves on by itself. */
  readonly onNumber: (n: number) => void;
  /** Goes back to the line before. */
  readonly onBack: () => void;
  readonly canGoBack: boolean;
  /** The list has so many of this line that its number has two digits: the keys begin with the tens. */
  readonly isLarge?: boolean | undefined;
  /** The digits so far of a longer number, such as 4–, for the line that is counted. Empty when done. */
  readonly onBegun?: ((digits: string) => void) | undefined;
};

/**
 * Ten digits, one tap a line. `10+` turns the keys into tens and then ones, and on a keyboard does
 * `+`; Backspace is Back. The state of it is in createDigits.
 */
export function Digits(props: DigitsProps) {
  const isLarge = createMemo(() => props.isLarge === true); // read by taps, see Button
  const canGoBack = createMemo(() => props.canGoBack);
  const digits = createDigits((n) => props.onNumber(n), isLarge);
  const goBack = () => {
    if (!digits.leave() && canGoBack()) props.onBack();
  };
  createEffect(() => props.onBegun?.(digits.begun()));
  const onKey = (event: KeyboardEvent) => {
    if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || isElsewhere(event))
      return;
    if (/^[0-9]$/.test(event.key)) digits.press(Number(event.key), event.timeStamp);
    else if (event.key === '+') digits.lengthen();
    else if (event.key === 'Backspace') goBack();
    else if (event.key === 'Escape') digits.leave();
    else return;
    event.preventDefault();
  };
  onMount(() => window.addEventListener('keydown', onKey));
  onCleanup(() => window.removeEventListener('keydown', onKey));
  const isBegun = () => digits.begun() !== '';
  return (
    <fieldset class="digits" data-begun={isBegun() ? 'yes' : 'no'}>
      <legend class="visually-hidden">{say`The number of pieces in sight`}</legend>
      <Index each={digits.keys()}>
        {(key) => (
          <button
            type="button"
            class="digit digits-type"
            data-digit={key().digit}
            data-length={key().label.length}
            aria-disabled={key().isOff ? 'true' : undefined}
            onClick={(event) => digits.press(key().digit, event.timeStamp)}
          >
            {key().label}
          </button>
        )}
      </Index>
      <div class="digits-side">
        <button type="button" class="digits-longer digits-type" onClick={() => digits.lengthen()}>
          <span class="visually-hidden">{say`Numbers`} </span>
          {digits.longer()}
        </button>
        <button
          type="button"
          class="digits-back"
          aria-disabled={props.canGoBack || isBegun() ? undefined : 'true'}
          onClick={goBack}
        >
          {say`Back`}
        </button>
      </div>
    </fieldset>
  );
}

/** Keys that are meant for a field or for an open sheet. */
function isElsewhere(event: KeyboardEvent): boolean {
  const { target } = event;
  const inField = target instanceof Element && target.closest('input, textarea, select') !== null;
  return inField || document.querySelector('dialog[open]') !== null;
}
