import { createSignal, For, onCleanup, onMount, Show } from 'solid-js';
import { say } from '#words/say.ts';
import './PinPad.css';

export type PinPadProps = {
  /** Whose PIN, or what for. */
  readonly label: string;
  /** The last digit of so many sends it. Without it there is a key for that, from the fourth digit on. */
  readonly digits?: number | undefined;
  /** The PIN is being looked at. */
  readonly isBusy?: boolean | undefined;
  /** Why the last one was not taken. */
  readonly said?: string | undefined;
  readonly onPin: (pin: string) => void;
};

const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'] as const;
const digitsMin = 4;
const digitsMax = 8;

/** A wet glove bounces: the same key again so soon is the same tap. Units: milliseconds. */
const bounceMs = 150;

/** Ten digits of 112 px for a gloved finger. The digits are not shown, only how many there are. */
export function PinPad(props: PinPadProps) {
  const [typed, setTyped] = createSignal('');
  let last = { key: '', at: 0 };
  const most = () => props.digits ?? digitsMax;
  const send = () => {
    const pin = typed();
    setTyped('');
    last = { key: '', at: 0 };
    props.onPin(pin);
  };
  const press = (key: string, at: number) => {
    if (props.isBusy || (key === last.key && at - last.at < bounceMs)) return;
    last = { key, at };
    if (typed().length < most()) setTyped(typed() + key);
    if (typed().length === props.digits) send();
  };
  const rub = () => setTyped(typed().slice(0, -1));
  const onKey = (event: KeyboardEvent) => {
    const { target } = event;
    const inField = target instanceof Element && target.closest('input, textarea') !== null;
    if (inField || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    if (/^[0-9]$/.test(event.key)) press(event.key, event.timeStamp);
    else if (event.key === 'Backspace') rub();
    else return;
    event.preventDefault();
  };
  onMount(() => window.addEventListener('keydown', onKey));
  onCleanup(() => window.removeEventListener('keydown', onKey));
  return (
    <fieldset class="pin" data-busy={props.isBusy ? 'yes' : 'no'}>
      <legend class="pin-label">{props.label}</legend>
      <p class="pin-shown">
        <span class="visually-hidden" aria-live="polite">
          {say`${typed().length} digits`}
        </span>
        <span class="pin-dots" aria-hidden="true">
          <For each={Array.from({ length: Math.max(props.digits ?? digitsMin, typed().length) })}>
            {(_, place) => <i data-on={place() < typed().length ? 'yes' : 'no'} />}
          </For>
        </span>
        <span class="pin-said" role="status">
          {props.isBusy ? say`One moment…` : props.said}
        </span>
      </p>
      <div class="pin-keys">
        <For each={keys}>
          {(key) => (
            <button
              type="button"
              class="pin-key digits-type"
              onClick={(event) => press(key, event.timeStamp)}
            >
              {key}
            </button>
          )}
        </For>
        <button type="button" class="pin-key pin-word" onClick={rub}>
          {say`Rub out`}
        </button>
        <Show when={props.digits === undefined}>
          <button
            type="button"
            class="pin-key pin-word"
            aria-disabled={typed().length < digitsMin ? 'true' : undefined}
            onClick={() => {
              if (typed().length >= digitsMin) send();
            }}
          >
            {say`Take it`}
          </button>
        </Show>
      </div>
    </fieldset>
  );
}
