import { createSignal, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { createHidden, type Hidden } from './createHidden.ts';
import './Scroller.css';

export type ScrollerProps = {
  /** Where a list holds itself still against a finger: what is tapped there moves pieces. */
  readonly isFirm?: boolean | undefined;
  /** What the keys say; for a list that counts its items. */
  readonly words?: ((hidden: Hidden) => { readonly up: string; readonly down: string }) | undefined;
  /** No keys for now: what is asked stands in the middle, and its neighbours in sight. */
  readonly isHeld?: boolean | undefined;
  /** Other keys beside the two. */
  readonly keys?: JSX.Element;
  readonly children: JSX.Element;
};

/** So much of a page is shown again on the next, so that nobody loses the place. */
const kept = 0.12;

/**
 * What is longer than its room, turned page by page with two keys: a gloved finger taps and does not drag.
 * The keys stand below and are there only when something does not fit; what is above them stays where it is.
 */
export function Scroller(props: ScrollerProps) {
  const [view, setView] = createSignal<HTMLElement>();
  const hidden = createHidden(view);
  const turn = (way: 1 | -1) => {
    const element = view();
    if (element) turnPage(element, way);
  };
  // Text alone is scrolled by the keyboard from its view; where there are buttons, focus goes through them.
  const isText = () => hidden().overflows && view()?.querySelector('button, input') === null;
  const words = () => props.words?.(hidden()) ?? { up: say`Back up`, down: say`More below` };
  return (
    <div class="scroller" data-firm={props.isFirm ? 'yes' : 'no'}>
      <div class="scroller-view" ref={setView} tabindex={isText() ? 0 : -1}>
        {props.children}
      </div>
      <Show when={hidden().overflows && !props.isHeld}>
        <fieldset class="scroller-keys">
          <legend class="visually-hidden">{say`Pages`}</legend>
          <PageKey way="up" words={words().up} isEnd={hidden().atTop} onTurn={() => turn(-1)} />
          <PageKey way="down" words={words().down} isEnd={hidden().atEnd} onTurn={() => turn(1)} />
          {props.keys}
        </fieldset>
      </Show>
    </div>
  );
}

function PageKey(props: {
  readonly way: 'up' | 'down';
  readonly words: string;
  readonly isEnd: boolean;
  readonly onTurn: () => void;
}) {
  return (
    <button
      type="button"
      class="scroller-key"
      data-way={props.way}
      aria-disabled={props.isEnd ? 'true' : undefined}
      onClick={() => props.onTurn()}
    >
      <span class="scroller-arrow" aria-hidden="true" />
      {props.words}
    </button>
  );
}

/** Turns to whole rows where the list has rows, so that none is cut at the top. */
function turnPage(view: HTMLElement, way: 1 | -1): void {
  const head = view.querySelector('[data-head]')?.getBoundingClientRect().height ?? 0;
  const page = view.clientHeight - head;
  const top = view.getBoundingClientRect().top + head;
  const wanted = view.scrollTop + way * page * (1 - kept);
  const starts = [...view.querySelectorAll('[data-item], [data-stop]')]
    .map((item) => item.getBoundingClientRect().top - top + view.scrollTop)
    .filter((start) => (way === 1 ? start > view.scrollTop + 1 : start < view.scrollTop - 1));
  // Down: the last row that was still seen whole or in part leads the next page. Up: the first that then fits.
  const start =
    way === 1 ? starts.findLast((one) => one <= wanted + 1) : starts.find((one) => one >= wanted);
  view.scrollTop = start ?? wanted;
}
