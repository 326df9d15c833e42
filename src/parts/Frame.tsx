import { Index, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { FrameIndex, type IndexEntry } from './FrameIndex.tsx';
import { Scroller } from './Scroller.tsx';
import type { StretchTone } from './Stretch.tsx';
import './Frame.css';

export type FramePlace = {
  readonly id: string;
  /** In the patient. */
  readonly label: string;
  readonly tone: StretchTone;
  /** Where a tap on the table puts a piece, when there is more than one site. */
  readonly isTarget?: boolean | undefined;
  /** Makes it the one. */
  readonly onTarget?: (() => void) | undefined;
};

export type FrameProps = {
  /** Which lines are shown. */
  readonly heading: JSX.Element;
  /** The columns, two to seven. */
  readonly places: readonly FramePlace[];
  /** The keys below, each with the lines that it brings into sight. */
  readonly index: readonly IndexEntry[];
  /** The lines that are shown, from the top. */
  readonly lines: readonly string[];
  /** Some lines are left out, and a key brings them back. */
  readonly isPartial?: boolean | undefined;
  /** Keys beside those of the index, such as the one that shows only what is inside. */
  readonly keys?: JSX.Element;
  /** Wires and groups of wires. */
  readonly children: JSX.Element;
};

/** The counting frame: each line a wire, each place a stretch of it, each piece a bead. */
export function Frame(props: FrameProps) {
  const hasTargets = () => props.places.some((place) => place.onTarget !== undefined);
  return (
    <section
      class="frame"
      data-columns={props.places.length}
      data-targets={hasTargets() ? 'yes' : 'no'}
      aria-label={say`Counting frame`}
    >
      <h1 class="visually-hidden">{say`Counting frame`}</h1>
      <Scroller
        isFirm
        isKeyed={props.isPartial}
        keys={(hidden, view) => (
          <>
            <FrameIndex entries={props.index} shown={props.lines} hidden={hidden()} view={view()} />
            {props.keys}
          </>
        )}
      >
        <div class="frame-head" data-head>
          <div class="frame-heading">{props.heading}</div>
          <Index each={props.places}>{(place) => <PlaceHead place={place()} />}</Index>
        </div>
        <ul class="frame-wires">{props.children}</ul>
      </Scroller>
    </section>
  );
}

function PlaceHead(props: { readonly place: FramePlace }) {
  return (
    <Show
      when={props.place.onTarget}
      fallback={
        <div class="frame-place" data-tone={props.place.tone}>
          {props.place.label}
        </div>
      }
    >
      {(target) => (
        <button
          type="button"
          class="frame-place frame-target"
          data-tone={props.place.tone}
          aria-pressed={props.place.isTarget ? 'true' : 'false'}
          onClick={() => target()()}
        >
          {props.place.label}
          <span class="frame-place-does">
            {props.place.isTarget ? say`pieces go here` : say`tap to use`}
          </span>
        </button>
      )}
    </Show>
  );
}
