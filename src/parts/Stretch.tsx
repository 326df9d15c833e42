import { Beads } from './Beads.tsx';
import './Stretch.css';

export type StretchTone = 'table' | 'inside' | 'off' | 'stays';

export type StretchView = {
  /** A place of the ledger: table, patient/abdomen, off, stays. */
  readonly place: string;
  /** The place as people say it: on the table, in the abdomen. */
  readonly placeWords: string;
  readonly tone: StretchTone;
  /** Undefined: hidden, since the line is to be counted again without knowing. */
  readonly pieces: number | undefined;
  /** What a tap does, as a screen reader says it: moves one into the patient. */
  readonly does?: string | undefined;
  /** Moves one. Without it the stretch only shows. */
  readonly onTap?: (() => void) | undefined;
};

/**
 * One stretch of a wire: the pieces of a line at one place. A tap asks to move one.
 *
 * Its name is a label and not hidden text, and nothing in it is positioned: every positioned,
 * clipped or contained element is one more that the browser asks at each tap whether it was meant.
 * With them 150 lines cost 27 ms a tap for that question alone.
 */
export function Stretch(props: { readonly line: string; readonly stretch: StretchView }) {
  const canTap = () => props.stretch.onTap !== undefined;
  const pieces = () => props.stretch.pieces ?? 0;
  const shown = () => (props.stretch.pieces === undefined ? '?' : `${props.stretch.pieces}`);
  const label = () => {
    const { placeWords, does } = props.stretch;
    const words = `${props.line}, ${placeWords}: ${shown()}`;
    return canTap() && does ? `${words}. ${does}` : words;
  };
  return (
    <button
      type="button"
      class="stretch"
      data-place={props.stretch.place}
      data-tone={props.stretch.tone}
      data-rows={pieces() > 5 ? 'many' : 'one'}
      data-empty={pieces() === 0 ? 'yes' : 'no'}
      data-live={canTap() ? 'yes' : 'no'}
      aria-disabled={canTap() ? undefined : 'true'}
      aria-label={label()}
      onClick={() => props.stretch.onTap?.()}
    >
      <span class="stretch-number digits-type" data-digits={shown().length}>
        {shown()}
      </span>
      <Beads pieces={pieces()} tone={props.stretch.tone} />
    </button>
  );
}
