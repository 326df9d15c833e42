import { createEffect, For, Index, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { keepInSight } from './keepInSight.ts';
import { Mark } from './Mark.tsx';
import { createRows } from './rows.ts';
import { Scroller } from './Scroller.tsx';
import './CountLines.css';

export type CountLineView = {
  readonly id: string;
  readonly name: string;
  /** What sort it is, so that two lines of the same name are told apart. */
  readonly detail?: string | undefined;
  /** What the two people saw. Undefined: not counted yet. Never what the record expects. */
  readonly entered?: number | undefined;
  /** It stands for several parts, so many of each; `detail` says which. */
  readonly isOfEach?: boolean | undefined;
};

export type CountPart = {
  readonly id: string;
  /** Field and table; Off the field. */
  readonly label: string;
  readonly state: 'done' | 'here' | 'ahead';
};

export type CountLinesProps = {
  /** First count, closing count: for a screen reader; the side says it on the screen. */
  readonly title?: string | undefined;
  /** The passes of the count in their order. */
  readonly parts: readonly CountPart[];
  readonly lines: readonly CountLineView[];
  /** The line that is counted now; undefined when every line has a number. */
  readonly currentId: string | undefined;
  /** Digits so far of a longer number: 4–. */
  readonly begun?: string | undefined;
  /** Line 7 of 31, count aloud together. */
  readonly progress: string;
  /** Goes to a line that has a number, to enter it again. */
  readonly onOpen?: ((id: string) => void) | undefined;
  /** Asks the parts that a line stands for one by one. */
  readonly onApart?: ((id: string) => void) | undefined;
};

/**
 * The lines of a count: what was said above, the line of the moment large, what comes below. Once every line has its
 * number they stand in two columns, to be looked over.
 */
export function CountLines(props: CountLinesProps) {
  const rows = createRows(() => props.lines);
  const place = keepInSight(() => props.currentId);
  // Looked over from its beginning, wherever the last number was said.
  let list: HTMLOListElement | undefined;
  createEffect(() => {
    if (props.currentId === undefined) list?.scrollIntoView({ block: 'start' });
  });
  return (
    <section class="count" aria-label={props.title ?? say`Count`}>
      <h1 class="visually-hidden">{props.title ?? say`Count`}</h1>
      <header class="count-head">
        <ol class="count-parts">
          <Index each={props.parts}>
            {(part, index) => (
              <li
                class="count-part"
                data-state={part().state}
                aria-current={part().state === 'here' ? 'step' : undefined}
              >
                <span class="digits-type">{index + 1}</span> {part().label}
                <Show when={part().state === 'done'}>
                  <Mark shape="agreed" />
                  <span class="visually-hidden">{say`done`}</span>
                </Show>
              </li>
            )}
          </Index>
        </ol>
        <p class="count-progress">{props.progress}</p>
      </header>
      <Scroller isHeld={props.currentId !== undefined}>
        <ol class="count-lines" ref={list} data-all={props.currentId === undefined ? 'yes' : 'no'}>
          <For each={rows.ids()}>
            {(id) => (
              <li
                class="count-line"
                data-line={id}
                data-stop
                data-state={stateOf(id, props.currentId, rows.row(id))}
                aria-current={id === props.currentId ? 'true' : undefined}
                ref={(element) => place(id, element)}
              >
                <Show
                  when={
                    id !== props.currentId && rows.row(id)?.entered !== undefined && props.onOpen
                  }
                  fallback={
                    <div class="count-face">
                      <LineWords
                        line={rows.row(id)}
                        begun={id === props.currentId ? (props.begun ?? '') : undefined}
                        onApart={() => props.onApart?.(id)}
                      />
                    </div>
                  }
                >
                  {(open) => (
                    <button type="button" class="count-face" onClick={() => open()(id)}>
                      <LineWords line={rows.row(id)} begun={undefined} />
                    </button>
                  )}
                </Show>
              </li>
            )}
          </For>
        </ol>
      </Scroller>
      <p class="visually-hidden" aria-live="polite">
        {props.currentId === undefined ? '' : spoken(rows.row(props.currentId))}
      </p>
    </section>
  );
}

/** A line by its name; several parts with what they are called. */
const spoken = (line: CountLineView | undefined): string | undefined =>
  line?.isOfEach ? `${line.name} ${line.detail}` : line?.name;

function stateOf(id: string, currentId: string | undefined, line: CountLineView | undefined) {
  if (id === currentId) return 'here';
  return line?.entered === undefined ? 'ahead' : 'done';
}

function LineWords(props: {
  readonly line: CountLineView | undefined;
  /** Digits so far on the line of the moment; undefined on the others. */
  readonly begun: string | undefined;
  readonly onApart?: () => void;
}) {
  const shown = () =>
    props.begun || (props.line?.entered ?? (props.begun === undefined ? '' : '–'));
  return (
    <>
      <span class="count-words">
        <span class="count-name">{props.line?.name}</span>
        <Show when={props.line?.detail}>
          <span class="count-detail">{props.line?.detail}</span>
        </Show>
      </span>
      <Show when={props.begun !== undefined && props.line?.isOfEach}>
        <button type="button" class="count-apart" onClick={props.onApart}>
          {say`Not alike: one by one`}
        </button>
      </Show>
      <span class="count-number digits-type">{shown()}</span>
    </>
  );
}
