import { createEffect, createMemo, For, on, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { createRows } from './rows.ts';
import './Spine.css';

export type SpineStation = {
  readonly id: string;
  readonly name: string;
  readonly state: 'passed' | 'here' | 'ahead';
  /** The time it was passed, as it is read: 13:20. */
  readonly at?: string | undefined;
};

export type SpineProps = {
  readonly stations: readonly SpineStation[];
  /** Opens the screen of a station. Without it, nothing can be tapped. */
  readonly onOpen?: ((id: string) => void) | undefined;
};

/** The stations of a case: a filled diamond is passed, the large hollow one is now, a small one is ahead. */
export function Spine(props: SpineProps) {
  const rows = createRows(() => props.stations);
  // Remembered: with each entry there are new stations, and to scroll is to lay out the whole screen at once.
  const here = createMemo(() => props.stations.find((station) => station.state === 'here')?.id);
  const elements = new Map<string, HTMLLIElement>();
  createEffect(
    on(here, (id) => {
      if (id !== undefined)
        elements.get(id)?.scrollIntoView?.({ block: 'nearest', inline: 'center' });
    }),
  );
  return (
    <ol class="spine" data-taps={props.onOpen ? 'yes' : 'no'}>
      <For each={rows.ids()}>
        {(id) => (
          <li
            class="station"
            data-state={rows.row(id)?.state}
            aria-current={rows.row(id)?.state === 'here' ? 'step' : undefined}
            ref={(element) => elements.set(id, element)}
          >
            <Show
              when={props.onOpen}
              fallback={
                <div class="station-face">
                  <StationWords station={rows.row(id)} />
                </div>
              }
            >
              {(open) => (
                <button type="button" class="station-face" onClick={() => open()(id)}>
                  <StationWords station={rows.row(id)} />
                </button>
              )}
            </Show>
          </li>
        )}
      </For>
    </ol>
  );
}

const spoken = () => ({ passed: say`passed`, here: say`now`, ahead: say`ahead` }) as const;

function StationWords(props: { readonly station: SpineStation | undefined }) {
  return (
    <>
      <span class="station-diamond" aria-hidden="true" />
      <span class="station-words">
        <span class="station-name">{props.station?.name}</span>
        <span class="visually-hidden">, {spoken()[props.station?.state ?? 'ahead']} </span>
        <Show when={props.station?.at}>
          {(at) => <span class="station-at digits-type">{at()}</span>}
        </Show>
      </span>
    </>
  );
}
