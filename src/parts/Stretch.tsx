import { Beads } from './Beads.tsx';

export type StretchProps = {
  readonly pieces: number;
  readonly place: string;
  readonly tone: 'table' | 'inside' | 'off' | 'stays';
  /** Line and place, for those who do not see them. */
  readonly label: string;
  readonly disabled: boolean;
  /** What a tap does, in words. */
  readonly act: string;
  readonly onTap: () => void;
};

/** One stretch of a wire: a line's pieces at one place. A tap asks to move one. Knows no store. */
export function Stretch(props: StretchProps) {
  return (
    <button
      type="button"
      class="stretch"
      data-place={props.place}
      data-tone={props.tone}
      data-empty={props.pieces === 0 ? '' : undefined}
      disabled={props.disabled}
      aria-label={`${props.label}: ${props.pieces}. ${props.disabled ? '' : props.act}`}
      onClick={() => props.onTap()}
    >
      <span class="stretch-pieces digits">{props.pieces}</span>
      <Beads pieces={props.pieces} />
    </button>
  );
}
