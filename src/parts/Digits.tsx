import { createSignal, For, onCleanup, onMount } from 'solid-js';

export type DigitsProps = {
  /** A number was entered: 0 to 9 in one tap, more in three. */
  readonly onNumber: (pieces: number) => void;
  readonly onBack: () => void;
  readonly disabled?: boolean;
};

/**
 * Ten digits under the thumb.
 *
 * One tap enters 0 to 9 and moves on. For more, `10+` waits for two digits: 44 is `10+`, 4, 4. A hundred and more
 * takes `10+` twice and three digits.
 */
export function Digits(props: DigitsProps) {
  const [places, setPlaces] = createSignal(1);
  const [typed, setTyped] = createSignal('');

  function tap(digit: number) {
    const text = `${typed()}${digit}`;
    if (text.length < places()) {
      setTyped(text);
      return;
    }
    setTyped('');
    setPlaces(1);
    props.onNumber(Number(text));
  }
  function more() {
    setTyped('');
    setPlaces(places() === 3 ? 1 : places() + 1);
  }
  function onKey(event: KeyboardEvent) {
    if (props.disabled || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.target instanceof HTMLInputElement) return;
    if (/^\d$/.test(event.key)) tap(Number(event.key));
    else if (event.key === '+') more();
    else if (event.key === 'Backspace') props.onBack();
  }
  onMount(() => document.addEventListener('keydown', onKey));
  onCleanup(() => document.removeEventListener('keydown', onKey));

  return (
    <fieldset class="digit-row" aria-label="How many are seen">
      <For each={[0, 1, 2, 3, 4, 5, 6, 7, 8, 9]}>
        {(digit) => (
          <button
            type="button"
            class="digit digits"
            disabled={props.disabled}
            onClick={() => tap(digit)}
          >
            {digit}
          </button>
        )}
      </For>
      <button
        type="button"
        class="digit digit-more digits"
        aria-pressed={places() > 1}
        disabled={props.disabled}
        aria-label={places() > 1 ? `Enter ${places()} digits` : 'Ten or more'}
        onClick={more}
      >
        {places() > 1 ? typed().padEnd(places(), '_') : '10+'}
      </button>
      <button type="button" class="digit digit-back" onClick={() => props.onBack()}>
        Back
      </button>
    </fieldset>
  );
}
