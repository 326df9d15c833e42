import { createSignal, For, type JSX, Show } from 'solid-js';
import { createHidden } from './createHidden.ts';
import type { StretchTone } from './Stretch.tsx';
import './Frame.css';

export type FramePlace = {
  readonly id: string;
  /** In the patient. */
  readonly label: string;
  /** What a tap on this column does, in two or three words. */
  readonly does?: string | undefined;
  readonly tone: StretchTone;
};

export type FrameProps = {
  /** Which lines are shown; it may hold a button that shows others. */
  readonly heading: JSX.Element;
  /** The columns, two to seven. */
  readonly places: readonly FramePlace[];
  /** Wires and groups of wires. */
  readonly children: JSX.Element;
};

/** The counting frame: each line a wire, each place a stretch of it, each piece a bead. */
export function Frame(props: FrameProps) {
  const [scroller, setScroller] = createSignal<HTMLElement>();
  const hidden = createHidden(scroller);
  return (
    <section class="frame" data-columns={props.places.length} aria-label="Counting frame">
      <h1 class="visually-hidden">Counting frame</h1>
      <div class="frame-scroller" ref={setScroller} tabindex="-1">
        <div class="frame-head">
          <div class="frame-heading">{props.heading}</div>
          <For each={props.places}>
            {(place) => (
              <div class="frame-place" data-tone={place.tone}>
                <span class="frame-place-label">{place.label}</span>
                <span class="frame-place-does">{place.does}</span>
              </div>
            )}
          </For>
          <Show when={hidden().above > 0}>
            <p class="frame-cue" data-edge="above">
              {cueWords(hidden().above, 'above', hidden().markedAbove)}
            </p>
          </Show>
        </div>
        <ul class="frame-wires">{props.children}</ul>
      </div>
      <Show when={hidden().below > 0}>
        <p class="frame-cue" data-edge="below">
          {cueWords(hidden().below, 'below', hidden().markedBelow)}
        </p>
      </Show>
    </section>
  );
}

function cueWords(lines: number, where: 'above' | 'below', inside: number): string {
  const words = `${lines} ${lines === 1 ? 'line' : 'lines'} ${where}`;
  return inside === 0 ? words : `${words}, ${inside} with pieces in the patient`;
}
