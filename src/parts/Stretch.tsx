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

/** One stretch of a wire: the pieces of a line at one place. A tap asks to move one. */
export function Stretch(props: { readonly line: string; readonly stretch: StretchView }) {
  const canTap = () => props.stretch.onTap !== undefined;
  const pieces = () => props.stretch.pieces ?? 0;
  const isHidden = () => props.stretch.pieces === undefined;
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
      onClick={() => props.stretch.onTap?.()}
    >
      <span class="visually-hidden">
        {props.line}, {props.stretch.placeWords}:{' '}
      </span>
      <span class="stretch-number digits-type" data-digits={`${pieces()}`.length}>
        {isHidden() ? '?' : pieces()}
      </span>
      <span class="visually-hidden">{canTap() ? `. ${props.stretch.does ?? ''}` : ''}</span>
      <Beads pieces={pieces()} tone={props.stretch.tone} />
    </button>
  );
}
