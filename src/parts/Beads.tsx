import { For, Show } from 'solid-js';

/** Above this many pieces beads are no longer read at a glance: the number stands alone. */
const beadsMax = 20;

/** Pieces as beads, in fives. */
export function Beads(props: { readonly pieces: number }) {
  const fives = () =>
    Array.from({ length: Math.ceil(props.pieces / 5) }, (_, five) =>
      Math.min(5, props.pieces - five * 5),
    );
  return (
    <Show when={props.pieces > 0 && props.pieces <= beadsMax}>
      <span class="beads" aria-hidden="true">
        <For each={fives()}>
          {(pieces) => (
            <span class="beads-five">
              <For each={Array.from({ length: pieces })}>{() => <i class="bead" />}</For>
            </span>
          )}
        </For>
      </span>
    </Show>
  );
}
