import { createMemo } from 'solid-js';
import { say } from '#words/say.ts';
import './Stepper.css';

export type StepperProps = {
  /** What the number is. */
  readonly label: string;
  readonly value: number;
  readonly min?: number | undefined;
  readonly max?: number | undefined;
  readonly onChange: (value: number) => void;
};

/** A small number, changed by tapping. */
export function Stepper(props: StepperProps) {
  const value = createMemo(() => props.value); // read by taps, see Button
  const min = () => props.min ?? 1;
  const max = () => props.max ?? 999;
  return (
    <fieldset class="stepper">
      <legend class="stepper-label">{props.label}</legend>
      <button
        type="button"
        class="stepper-turn"
        aria-label={say`${props.label}: one less`}
        disabled={value() <= min()}
        onClick={() => props.onChange(value() - 1)}
      >
        −
      </button>
      <output class="stepper-number digits-type">{value()}</output>
      <button
        type="button"
        class="stepper-turn"
        aria-label={say`${props.label}: one more`}
        disabled={value() >= max()}
        onClick={() => props.onChange(value() + 1)}
      >
        +
      </button>
    </fieldset>
  );
}
