import { Index, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Mark } from './Mark.tsx';
import './Track.css';

export type TrackStop = {
  readonly id: string;
  /** Out, Whole, In container, Labelled, Read back, Handed over. */
  readonly name: string;
  readonly detail?: string | undefined;
  readonly state: 'done' | 'here' | 'ahead';
};

export type TrackProps = {
  readonly label: string;
  readonly stops: readonly TrackStop[];
  /** Goes to a stop. Without it the track only shows. */
  readonly onOpen?: ((id: string) => void) | undefined;
};

/** A way with few stops: of a specimen from out of the patient to handed over, of a case until it is opened. */
export function Track(props: TrackProps) {
  return (
    <ol class="track" aria-label={props.label}>
      <Index each={props.stops}>
        {(stop) => (
          <li
            class="track-stop"
            data-state={stop().state}
            aria-current={stop().state === 'here' ? 'step' : undefined}
          >
            <Show
              when={props.onOpen}
              fallback={
                <div class="track-face">
                  <StopWords stop={stop()} />
                </div>
              }
            >
              {(open) => (
                <button type="button" class="track-face" onClick={() => open()(stop().id)}>
                  <StopWords stop={stop()} />
                </button>
              )}
            </Show>
          </li>
        )}
      </Index>
    </ol>
  );
}

function StopWords(props: { readonly stop: TrackStop }) {
  return (
    <>
      <span class="track-name">
        <Show when={props.stop.state === 'done'}>
          <Mark shape="agreed" />
          <span class="visually-hidden">{say`done:`} </span>
        </Show>
        {props.stop.name}
      </span>
      <span class="track-detail">{props.stop.detail}</span>
    </>
  );
}
