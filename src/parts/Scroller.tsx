import { type Accessor, createSignal, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { createHidden, type Hidden } from './createHidden.ts';
import './Scroller.css';
import { turnPage } from './turnPage.ts';

export type ScrollerProps = {
  /** Where a list holds itself still against a finger: what is tapped there moves pieces. */
  readonly isFirm?: boolean | undefined;
  /** What the keys say; for a list that counts its items. */
  readonly words?: ((hidden: Hidden) => { readonly up: string; readonly down: string }) | undefined;
  /** The keys stay where nothing is to be turned, too: one of them brings back what is not shown. */
  readonly isKeyed?: boolean | undefined;
  /** No keys for now: what is asked stands in the middle, and its neighbours in sight. */
  readonly isHeld?: boolean | undefined;
  /** Keys instead of the two that turn pages, for a list whose parts have names. */
  readonly keys?:
    | ((hidden: Accessor<Hidden>, view: Accessor<HTMLElement | undefined>) => JSX.Element)
    | undefined;
  readonly children: JSX.Element;
};

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
      <Show when={(hidden().overflows || props.isKeyed) && !props.isHeld}>
        <fieldset class="scroller-keys">
          <legend class="visually-hidden">{say`Pages`}</legend>
          {props.keys?.(hidden, view) ?? (
            <>
              <PageKey way="up" words={words().up} isEnd={hidden().atTop} onTurn={() => turn(-1)} />
              <PageKey
                way="down"
                words={words().down}
                isEnd={hidden().atEnd}
                onTurn={() => turn(1)}
              />
            </>
          )}
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
