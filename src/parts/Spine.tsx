import { For, Show } from 'solid-js';

export type SpineStation = {
  readonly id: string;
  readonly name: string;
  readonly state: 'passed' | 'here' | 'ahead';
  /** Time of day when it was passed. */
  readonly at?: string;
};

export type SpineProps = {
  readonly stations: readonly SpineStation[];
  /** The station whose screen is open. */
  readonly shown?: string | undefined;
  readonly onOpen: (id: string) => void;
};

const stateWords = { passed: 'done', here: 'now', ahead: 'to come' } as const;

/** The way of the case: where it is, and when each station was passed. */
export function Spine(props: SpineProps) {
  return (
    <nav class="spine" aria-label="Stations of the case">
      <ol>
        <For each={props.stations}>
          {(station) => (
            <li>
              <button
                type="button"
                class="station"
                data-state={station.state}
                data-station={station.id}
                aria-current={props.shown === station.id ? 'page' : undefined}
                onClick={() => props.onOpen(station.id)}
              >
                <span class="station-mark" aria-hidden="true" />
                <span class="station-words">
                  <span class="station-name">{station.name}</span>
                  <Show when={station.at}>
                    {(at) => <span class="station-at digits">{at()}</span>}
                  </Show>
                  <span class="visually-hidden">, {stateWords[station.state]}</span>
                </span>
              </button>
            </li>
          )}
        </For>
      </ol>
    </nav>
  );
}
