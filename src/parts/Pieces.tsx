import { For, Show } from 'solid-js';
import { say } from '#words/say.ts';
import './Pieces.css';

export type PiecesProps = {
  /** What they are: Swab 10 × 10, field and table. */
  readonly label: string;
  readonly kind: 'swab' | 'sharp' | 'small' | 'instrument';
  /** How many lie there. It is never written as a number: whoever looks has to count. */
  readonly pieces: number;
};

/** Above this they lie in tens, as a theatre lays out a tray: two tens in a row where there are more than two. */
const looseMax = 10;
const cell = { wide: 40, high: 52, betweenTens: 30 } as const;

/** Pieces as they lie on a table, to be counted one by one, by eye or by a screen reader. */
export function Pieces(props: PiecesProps) {
  const inRow = () => {
    if (props.pieces <= looseMax) return Math.max(1, props.pieces);
    return props.pieces > 20 ? 20 : 10;
  };
  const rows = () => Math.max(1, Math.ceil(props.pieces / inRow()));
  const wide = () => inRow() * cell.wide + (inRow() > 10 ? cell.betweenTens : 0);
  const box = () => `0 0 ${wide()} ${rows() * cell.high}`;
  const all = () => Array.from({ length: props.pieces }, (_, index) => index);
  return (
    <figure class="pieces" data-kind={props.kind} data-rows={rows()}>
      <Show
        when={props.pieces > 0}
        fallback={<p class="pieces-none">{say`Nothing of it lies there.`}</p>}
      >
        <svg class="pieces-table" viewBox={box()} aria-hidden="true">
          <For each={all()}>
            {(index) => (
              <g transform={placeOf(index, inRow(), props.pieces > looseMax)}>
                <Glyph kind={props.kind} />
              </g>
            )}
          </For>
        </svg>
        <ul class="visually-hidden" aria-label={props.label}>
          <For each={all()}>{() => <li>{say`one piece`}</li>}</For>
        </ul>
      </Show>
      <figcaption class="pieces-label">{props.label}</figcaption>
    </figure>
  );
}

/** Loose pieces lie a little askew, the same each time; in rows they lie straight. */
function placeOf(index: number, inRow: number, isInRows: boolean): string {
  const across = index % inRow;
  const x = across * cell.wide + cell.wide / 2 + (across >= 10 ? cell.betweenTens : 0);
  const y = Math.floor(index / inRow) * cell.high + cell.high / 2;
  if (isInRows) return `translate(${x} ${y})`;
  const turn = ((index * 47) % 50) - 25;
  const drop = ((index * 29) % 9) - 4;
  return `translate(${x} ${y + drop}) rotate(${turn})`;
}

/** A swab with its strand, a curved needle, a small part, an instrument. */
function Glyph(props: { readonly kind: PiecesProps['kind'] }) {
  return (
    <>
      <Show when={props.kind === 'swab'}>
        <rect x="-13" y="-13" width="26" height="26" rx="4" />
        <path class="pieces-strand" d="M-9 6C-3 -4 3 10 9 -2" />
      </Show>
      <Show when={props.kind === 'sharp'}>
        <path class="pieces-line" d="M-13 6A14 14 0 0 1 13 6L9 1" />
      </Show>
      <Show when={props.kind === 'small'}>
        <circle r="12" />
        <circle class="pieces-hole" r="5" />
      </Show>
      <Show when={props.kind === 'instrument'}>
        <path class="pieces-line" d="M-7 17L6 -17M7 17L-6 -17" />
        <circle class="pieces-ring" cx="-8" cy="17" r="4" />
        <circle class="pieces-ring" cx="8" cy="17" r="4" />
      </Show>
    </>
  );
}
