import { createMemo, For, Show } from 'solid-js';
import { Scroller } from '#parts/Scroller.tsx';
import { byTitle } from '#session/sheetEntry.ts';
import type { LibraryEntry } from '#session/sheetLibrary.ts';
import { dateWords } from '#words/dates.ts';
import { say } from '#words/say.ts';

export type SheetListProps = {
  readonly entries: readonly LibraryEntry[];
  readonly said: string | undefined;
  readonly onOpen: (id: string) => void;
};

/** Every sheet in use, one row each. */
export function SheetList(props: SheetListProps) {
  const entries = createMemo(() => byTitle(props.entries));
  return (
    <main class="library-main">
      <Scroller>
        <Show when={props.said}>
          <p class="said-line" role="status">
            {props.said}
          </p>
        </Show>
        <ul class="library-list">
          <For each={entries()}>
            {(entry) => (
              <li>
                <button
                  type="button"
                  class="library-entry"
                  data-sheet={entry.id}
                  onClick={() => props.onOpen(entry.id)}
                >
                  <strong>{entry.title}</strong>
                  <span class="quiet">{say`Revised ${entry.version}`}</span>
                  <span class="quiet">{wordsOf(entry)}</span>
                </button>
              </li>
            )}
          </For>
        </ul>
      </Scroller>
    </main>
  );
}

function wordsOf({ kept }: LibraryEntry): string {
  if (kept === undefined) return say`As it is shipped`;
  return say`Version ${kept.number}, taken into use by ${kept.takenBy} on ${dateWords(kept.takenAt)}`;
}
