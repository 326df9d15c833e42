import { createMemo, Index } from 'solid-js';
import './Beads.css';

export type BeadsTone = 'table' | 'inside' | 'off' | 'stays';

/** Beads up to here; above it a rod stands for five of them. Units: pieces. */
const beadsMax = 20;
/** Rods up to here; above it the number alone says it. Units: pieces. */
const rodsMax = 100;

/** Pieces as beads on the wire, in fives as people count. The number beside them is what is read aloud. */
export function Beads(props: { readonly pieces: number; readonly tone: BeadsTone }) {
  const size = () => {
    if (props.pieces <= 10) return 'large';
    return props.pieces <= beadsMax ? 'small' : 'rods';
  };
  const groups = createMemo(() => groupsOf(props.pieces));
  return (
    <span
      class="beads"
      data-tone={props.tone}
      data-size={size()}
      data-rows={props.pieces > 5 ? 'many' : 'one'}
      aria-hidden="true"
    >
      {/* By place: one piece more or less is one bead, and those that stay are not made anew. */}
      <Index each={groups()}>
        {(group) => (
          <span class="five">
            <Index each={group()}>{(kind) => <span class={kind()} />}</Index>
          </span>
        )}
      </Index>
    </span>
  );
}

type Bead = 'bead' | 'rod';

/** 12 is 5, 5 and 2 beads; 44 is 8 rods and 4 beads, all in one group. */
function groupsOf(pieces: number): readonly (readonly Bead[])[] {
  if (pieces > rodsMax) return [];
  const fives = Math.floor(pieces / 5);
  const loose = Array.from({ length: pieces % 5 }, (): Bead => 'bead');
  if (pieces > beadsMax) return [[...Array.from({ length: fives }, (): Bead => 'rod'), ...loose]];
  const five: readonly Bead[] = ['bead', 'bead', 'bead', 'bead', 'bead'];
  const groups = Array.from({ length: fives }, () => five);
  return loose.length === 0 ? groups : [...groups, loose];
}
