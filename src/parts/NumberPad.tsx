import { createSignal, For, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Button } from './Button.tsx';
import './NumberPad.css';

export type NumberPadProps = {
  /** What the number is. */
  readonly label: string;
  readonly unit?: string | undefined;
  readonly value?: number | undefined;
  /** Digits that fit, 4 unless said. */
  readonly length?: number | undefined;
  /** Words of the button that gives the number. */
  readonly setWords: string;
  /** Why this number cannot be given, in a sentence. */
  readonly whyNot?: ((n: number) => string | undefined) | undefined;
  readonly onNumber: (n: number) => void;
  /** Two rows of keys, where much stands above it. */
  readonly isLow?: boolean | undefined;
  /** A second button that gives it too, and goes on with another. */
  readonly more?: { readonly words: string; readonly onNumber: (n: number) => void } | undefined;
};

const digitKeys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'] as const;

/** A whole number of any length: millilitres, kilograms, millimetres. */
export function NumberPad(props: NumberPadProps) {
  const [typed, setTyped] = createSignal<string>();
  const text = () => typed() ?? (props.value === undefined ? '' : `${props.value}`);
  const add = (digit: string) => {
    const next = `${typed() ?? ''}${digit}`.replace(/^0+(?=\d)/, '');
    if (next.length <= (props.length ?? 4)) setTyped(next);
  };
  const whyNot = () => {
    if (text() === '') return say`Give a number first.`;
    return props.whyNot?.(Number(text()));
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (/^[0-9]$/.test(event.key)) add(event.key);
    else if (event.key === 'Backspace') setTyped(text().slice(0, -1));
    else return;
    event.preventDefault();
  };
  return (
    <fieldset class="pad" data-low={props.isLow ? 'yes' : 'no'} onKeyDown={onKey}>
      <legend class="visually-hidden">{props.label}</legend>
      <p class="pad-shown">
        <span class="pad-label">{props.label}</span>
        <output class="pad-number digits-type">{text() === '' ? '–' : text()}</output>
        <Show when={props.unit}>
          <span class="pad-unit">{props.unit}</span>
        </Show>
      </p>
      <div class="pad-keys">
        <For each={digitKeys}>
          {(digit) => (
            <button type="button" class="pad-key digits-type" onClick={() => add(digit)}>
              {digit}
            </button>
          )}
        </For>
        <button type="button" class="pad-key pad-rub" onClick={() => setTyped(text().slice(0, -1))}>
          {say`Rub out`}
        </button>
      </div>
      <div class="pad-set">
        <Button
          kind="primary"
          size={112}
          whyNot={whyNot()}
          onPress={() => props.onNumber(Number(text()))}
        >
          {props.setWords}
        </Button>
        <Show when={props.more}>
          {(more) => (
            <Button kind="plain" whyNot={whyNot()} onPress={() => more().onNumber(Number(text()))}>
              {more().words}
            </Button>
          )}
        </Show>
      </div>
    </fieldset>
  );
}
