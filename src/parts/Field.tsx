import { createUniqueId, Show } from 'solid-js';
import './Field.css';

export type FieldProps = {
  readonly label: string;
  /** A date is written 1961-03-02 and a time 13:20, whatever the device is used to. */
  readonly kind: 'text' | 'date' | 'time' | 'number';
  readonly value: string;
  readonly onInput: (value: string) => void;
  /** What is wrong with it, in a sentence. */
  readonly error?: string | undefined;
  /** A sentence that helps. */
  readonly hint?: string | undefined;
  readonly unit?: string | undefined;
  /** Letters that fit. */
  readonly length?: number | undefined;
};

/** A field to write in, with its name above and what is wrong below, where room is kept for it. */
export function Field(props: FieldProps) {
  const id = createUniqueId();
  const wrongId = `${id}-wrong`;
  const write = (input: HTMLInputElement) => {
    const value = writtenAs(props.kind, input.value);
    if (value !== input.value) input.value = value;
    props.onInput(value);
  };
  return (
    <div class="field" data-wrong={props.error === undefined ? 'no' : 'yes'}>
      <label class="field-label" for={id}>
        {props.label}
      </label>
      <div class="field-box">
        <input
          class="field-input"
          id={id}
          type="text"
          inputmode={keyboards[props.kind]}
          placeholder={patterns[props.kind]}
          value={props.value}
          maxlength={props.length}
          autocomplete="off"
          autocapitalize="off"
          spellcheck={false}
          aria-invalid={props.error === undefined ? undefined : 'true'}
          aria-describedby={wrongId}
          enterkeyhint="next"
          onKeyDown={(event) => {
            if (event.key === 'Enter') toNext(event.currentTarget);
          }}
          onInput={(event) => write(event.currentTarget)}
        />
        <Show when={props.unit}>
          <span class="field-unit">{props.unit}</span>
        </Show>
      </div>
      <p class="field-says" id={wrongId} aria-live="polite">
        {props.error ?? props.hint ?? ''}
      </p>
    </div>
  );
}

const keyboards = { text: 'text', date: 'numeric', time: 'numeric', number: 'decimal' } as const;
const patterns = { text: undefined, date: 'yyyy-mm-dd', time: 'hh:mm', number: undefined } as const;

/** Sets the strokes of a date and the colon of a time, so that only digits need to be typed. */
function writtenAs(kind: FieldProps['kind'], text: string): string {
  const digits = text.replace(/\D/g, '');
  if (kind === 'date') {
    const parts = [digits.slice(0, 4), digits.slice(4, 6), digits.slice(6, 8)];
    return parts.filter((part) => part !== '').join('-');
  }
  if (kind === 'time') {
    return [digits.slice(0, 2), digits.slice(2, 4)].filter((part) => part !== '').join(':');
  }
  return text;
}

/** The key that ends a field goes on to the next one of the page: nobody has to tap into each. */
function toNext(input: HTMLInputElement): void {
  const whole = input.closest('dialog, main, footer') ?? document;
  const fields = [...whole.querySelectorAll<HTMLInputElement>('.field-input')];
  fields[fields.indexOf(input) + 1]?.focus();
}
