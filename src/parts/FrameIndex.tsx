import { For, Show } from 'solid-js';
import { say } from '#words/say.ts';
import type { Hidden } from './createHidden.ts';
import { fromTop, turnPage } from './turnPage.ts';
import './FrameIndex.css';

/** A stretch of the frame that has a key of its own. */
export type IndexEntry = {
  readonly name: string;
  /** Its lines in the order of the frame, those that are not in the case among them. */
  readonly lines: readonly string[];
};

export type FrameIndexProps = {
  readonly entries: readonly IndexEntry[];
  /** The lines that the frame shows, in its order. */
  readonly shown: readonly string[];
  readonly hidden: Hidden;
  readonly view: HTMLElement | undefined;
};

/**
 * The keys below the frame: each brings its lines into sight with one tap, and turns on through them where they are
 * longer than the room. A key never moves in a case. It tells whether its lines are in sight, and whether one of them
 * that is not has a piece in the patient.
 */
export function FrameIndex(props: FrameIndexProps) {
  return <For each={props.entries}>{(entry) => <IndexKey {...props} entry={entry} />}</For>;
}

function IndexKey(props: FrameIndexProps & { readonly entry: IndexEntry }) {
  const seen = () => sightOf(props.entry, props.shown, props.hidden);
  const hasUnseen = () => props.hidden.marked.some((wire) => isOf(props.entry, wire));
  const bring = () => {
    if (props.view && !seen().isEmpty) bringEntry(props.view, props.entry, seen().goesOn);
  };
  return (
    <button
      type="button"
      class="scroller-key index-key"
      data-lines={props.entry.lines.join(' ')}
      data-seen={seen().isInSight ? 'yes' : 'no'}
      aria-disabled={seen().isEmpty ? 'true' : undefined}
      aria-label={
        hasUnseen() ? say`${props.entry.name}: pieces in the patient, not in sight` : undefined
      }
      onClick={bring}
    >
      <span class="index-words">{props.entry.name}</span>
      <Show when={seen().goesOn}>
        <span class="scroller-arrow" aria-hidden="true" />
      </Show>
      <Show when={hasUnseen()}>
        <span class="index-inside" aria-hidden="true" />
      </Show>
    </button>
  );
}

type Sight = {
  /** None of its lines is in the case yet. */
  readonly isEmpty: boolean;
  readonly isInSight: boolean;
  /** It begins in sight or above, and ends below. */
  readonly goesOn: boolean;
};

function sightOf(entry: IndexEntry, shown: readonly string[], hidden: Hidden): Sight {
  // The parts of a group stand together, wherever the sheet has them: the order is that of the frame.
  const places = shown.flatMap((line, place) => (entry.lines.includes(line) ? [place] : []));
  const [first = 0] = places;
  const last = places.at(-1) ?? 0;
  const end = shown.length - hidden.below;
  const isInSight = places.length > 0 && first < end && last >= hidden.above;
  return { isEmpty: places.length === 0, isInSight, goesOn: isInSight && last >= end };
}

const isOf = ({ lines }: IndexEntry, wire: Element): boolean =>
  lines.includes(wire.getAttribute('data-line') ?? '');

/** Its first line comes to the top; where that stands there or above already, the next page. */
function bringEntry(view: HTMLElement, entry: IndexEntry, goesOn: boolean): void {
  const wire = [...view.querySelectorAll('[data-line]')].find((one) => isOf(entry, one));
  if (!wire) return;
  const group = wire.closest('[data-stop]');
  // With the name of its group, where it is the first of that.
  const head = group?.querySelector('[data-line]') === wire ? group : wire;
  const top = fromTop(view, head);
  if (goesOn && top < slack) turnPage(view, 1);
  else view.scrollTop += top;
}

/** Sizes on the screen are not whole numbers. Units: CSS pixels. */
const slack = 4;
