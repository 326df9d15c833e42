import { createUniqueId, Show } from 'solid-js';

export type FieldProps = {
  readonly label: string;
  readonly value: string;
  readonly onInput: (value: string) => void;
  readonly type?: 'text' | 'date' | 'number' | 'time';
  readonly hint?: string;
  /** What is wrong with it, in a sentence. */
  readonly wrong?: string | undefined;
};

/** One line to fill in, with what is wrong said under it. */
export function Field(props: FieldProps) {
  const id = createUniqueId();
  return (
    <div class="field" data-wrong={props.wrong ? '' : undefined}>
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type={props.type ?? 'text'}
        inputmode={props.type === 'number' ? 'decimal' : undefined}
        autocomplete="off"
        maxlength={200}
        value={props.value}
        aria-invalid={props.wrong ? 'true' : undefined}
        aria-describedby={`${id}-said`}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
      <p id={`${id}-said`} class="field-said">
        <Show when={props.wrong} fallback={props.hint ?? ''}>
          {(wrong) => <>▲ {wrong()}</>}
        </Show>
      </p>
    </div>
  );
}
