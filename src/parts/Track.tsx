import { Index, Show } from 'solid-js';
import { Mark } from './Mark.tsx';
import './Track.css';

export type TrackStop = {
  readonly id: string;
  /** Out, Whole, In container, Labelled, Read back, Handed over. */
  readonly name: string;
  readonly detail?: string | undefined;
  readonly state: 'done' | 'here' | 'ahead';
};

/** The way of a specimen, from out of the patient to handed over. */
export function Track(props: { readonly label: string; readonly stops: readonly TrackStop[] }) {
  return (
    <ol class="track" aria-label={props.label}>
      <Index each={props.stops}>
        {(stop) => (
          <li
            class="track-stop"
            data-state={stop().state}
            aria-current={stop().state === 'here' ? 'step' : undefined}
          >
            <span class="track-name">
              <Show when={stop().state === 'done'}>
                <Mark shape="agreed" />
                <span class="visually-hidden">done: </span>
              </Show>
              {stop().name}
            </span>
            <span class="track-detail">{stop().detail}</span>
          </li>
        )}
      </Index>
    </ol>
  );
}
