import { createEffect, createSignal, For, on, Show } from 'solid-js';

export type HoldCard = {
  readonly key: string;
  readonly title: string;
  readonly detail: string;
  readonly tone: 'held' | 'missing' | 'inside' | 'agreed';
  readonly onOpen?: () => void;
};

export type HoldListProps = {
  readonly title: string;
  readonly summary: string;
  readonly holds: readonly HoldCard[];
};

const toneWords = { held: 'Held', missing: 'Missing', inside: 'Inside', agreed: 'Done' } as const;
const toneMarks = { held: '◆', missing: '▲', inside: '●', agreed: '✓' } as const;

/** What stands between now and the next irreversible act, all the time. */
export function HoldList(props: HoldListProps) {
  const news = createNews(() => props.holds);
  return (
    <section class="holds" aria-label={props.title}>
      <h2 class="holds-title">{props.title}</h2>
      <p class="holds-summary">{props.summary}</p>
      <ul class="holds-list">
        <For each={props.holds.map((hold) => hold.key)}>
          {(key) => (
            <Show when={props.holds.find((hold) => hold.key === key)}>
              {(hold) => <Card hold={hold()} />}
            </Show>
          )}
        </For>
      </ul>
      <p class="visually-hidden" aria-live="polite">
        {news()}
      </p>
    </section>
  );
}

function Card(props: { readonly hold: HoldCard }) {
  return (
    <li>
      <button
        type="button"
        class="hold"
        data-tone={props.hold.tone}
        data-hold={props.hold.key}
        disabled={!props.hold.onOpen}
        onClick={() => props.hold.onOpen?.()}
      >
        <span class="hold-mark" aria-hidden="true">
          {toneMarks[props.hold.tone]}
        </span>
        <span class="hold-words">
          <span class="visually-hidden">{toneWords[props.hold.tone]}: </span>
          <strong>{props.hold.title}</strong>
          <Show when={props.hold.detail}>
            <span class="hold-detail">{props.hold.detail}</span>
          </Show>
        </span>
      </button>
    </li>
  );
}

/** Says a hold once, when it appears. */
function createNews(holds: () => readonly HoldCard[]) {
  const [news, setNews] = createSignal('');
  createEffect(
    on(holds, (now, before) => {
      const known = new Set((before ?? now).map((hold) => hold.key));
      const fresh = now.filter((hold) => hold.tone !== 'agreed' && !known.has(hold.key));
      if (fresh.length > 0) setNews(fresh.map((hold) => hold.title).join('. '));
    }),
  );
  return news;
}
