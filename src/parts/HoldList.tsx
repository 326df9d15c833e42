import { createEffect, createMemo, createSignal, For, on, Show } from 'solid-js';
import { say } from '#words/say.ts';
import type { Hidden } from './createHidden.ts';
import { Mark } from './Mark.tsx';
import { createRows } from './rows.ts';
import { Scroller } from './Scroller.tsx';
import './HoldList.css';

export type HoldView = {
  /** The same for as long as it is the same reason, such as code and line. */
  readonly id: string;
  readonly code: string;
  readonly title: string;
  readonly detail?: string | undefined;
  /** Who can settle it. */
  readonly who?: string | undefined;
  /** `due` holds nothing: it is a time that has come. */
  readonly tone: 'held' | 'missing' | 'due' | 'agreed';
  /** There is a screen where it is settled. */
  readonly opens?: boolean | undefined;
};

export type HoldListProps = {
  /** Closure is held; Incision waits for; Nothing open that I know of. */
  readonly title: string;
  /** How many things stand between now and the act, in words. */
  readonly sentence?: string | undefined;
  readonly holds: readonly HoldView[];
  /** Opens the screen where the one of that id is settled. */
  readonly onOpen?: ((id: string) => void) | undefined;
};

/** What stands between now and the next act that cannot be taken back. On show all the time. */
export function HoldList(props: HoldListProps) {
  const rows = createRows(() => props.holds);
  const news = createNews(props);
  return (
    <section class="holds">
      <h2 class="holds-title">{props.title}</h2>
      <p class="holds-sentence">{props.sentence}</p>
      <Scroller isFirm words={pageWords}>
        <ul class="holds-list">
          <For each={rows.ids()}>
            {(id) => (
              <Show when={rows.row(id)}>
                {(hold) => <HoldCard hold={hold()} onOpen={() => props.onOpen?.(id)} />}
              </Show>
            )}
          </For>
        </ul>
      </Scroller>
      <p class="visually-hidden" aria-live="polite">
        {news()}
      </p>
    </section>
  );
}

const pageWords = ({ above, below }: Hidden) => ({
  up: above === 0 ? say`At the top` : say`${above} above`,
  down: below === 0 ? say`At the end` : say`${below} more below`,
});

/** Titles of the reasons that were not there a moment ago, each said once; silent as soon as they are settled. */
function createNews(props: HoldListProps) {
  const [news, setNews] = createSignal('');
  let told: readonly string[] = [];
  const openIds = () => props.holds.filter(({ tone }) => tone !== 'agreed').map(({ id }) => id);
  createEffect(
    on(openIds, (now, before) => {
      if (before === undefined) return;
      const fresh = props.holds.filter(({ id }) => now.includes(id) && !before.includes(id));
      if (fresh.length > 0) {
        told = fresh.map(({ id }) => id);
        setNews(say`Now open: ${fresh.map(({ title }) => title).join('. ')}.`);
      } else if (now.length === 0 && before.length > 0) setNews(`${props.title}.`);
      else if (!told.some((id) => now.includes(id))) setNews('');
    }),
  );
  return news;
}

const spoken = () =>
  ({ held: say`Held`, missing: say`Missing`, due: say`Due`, agreed: say`Agreed` }) as const;

function HoldCard(props: { readonly hold: HoldView; readonly onOpen: () => void }) {
  // Pieces go in and out, and change its words alone.
  const tone = createMemo(() => props.hold.tone);
  const opens = createMemo(() => props.hold.opens === true);
  const words = () => <HoldWords hold={props.hold} tone={tone()} opens={opens()} />;
  return (
    <li class="hold" data-item data-code={props.hold.code} data-tone={tone()}>
      <Show when={opens()} fallback={<div class="hold-face">{words()}</div>}>
        <button type="button" class="hold-face" onClick={() => props.onOpen()}>
          {words()}
        </button>
      </Show>
    </li>
  );
}

function HoldWords(props: {
  readonly hold: HoldView;
  readonly tone: HoldView['tone'];
  readonly opens: boolean;
}) {
  const second = () => [props.hold.detail, props.hold.who].filter(Boolean).join(' · ');
  return (
    <>
      <span class="hold-bar">
        <Mark shape={props.tone} />
      </span>
      <span class="hold-words">
        <span class="visually-hidden">{spoken()[props.tone]}: </span>
        <span class="hold-title">{props.hold.title}</span>
        <Show when={second()}>
          <span class="visually-hidden">. </span>
          <span class="hold-detail">{second()}</span>
        </Show>
      </span>
      <Show when={props.opens}>
        <span class="hold-arrow" aria-hidden="true" />
      </Show>
    </>
  );
}
