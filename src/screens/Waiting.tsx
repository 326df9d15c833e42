import { createSignal, onCleanup, Show } from 'solid-js';
import { render } from 'solid-js/web';
import { firstSpoken } from '#words/languages.ts';
import { say } from '#words/say.ts';
import { speak } from './speaking.ts';

/** A start that is quicker shows nothing between. */
const shownAfterMs = 700;
/** A healthy tablet is there by then, even a slow one. */
const longAfterMs = 3000;

function Waiting() {
  const [isLong, setLong] = createSignal(false);
  const timer = setTimeout(() => setLong(true), longAfterMs - shownAfterMs);
  onCleanup(() => clearTimeout(timer));
  return (
    <main class="plain-screen">
      <h1>{say`Opening the record of this tablet`}</h1>
      <p>{say`Nothing that was entered is lost by waiting.`}</p>
      <p role="status">
        <Show when={isLong()}>
          {say`It takes longer than it should: the disk may be full or busy. Until it opens, count on paper.`}
        </Show>
      </p>
    </main>
  );
}

/**
 * Shows, while the program is not there yet, what it waits for. The language that was chosen is not read
 * yet either: it speaks the browser's.
 *
 * Answers how to end it.
 */
export function showWaiting(place: HTMLElement): () => void {
  const box = document.createElement('div');
  box.className = 'waiting-cover';
  let isOver = false;
  let dispose = (): void => undefined;
  const begin = async (): Promise<void> => {
    await speak(firstSpoken(navigator.languages)).catch(() => undefined);
    if (isOver) return;
    place.append(box);
    dispose = render(() => <Waiting />, box);
  };
  const timer = setTimeout(begin, shownAfterMs);
  return () => {
    isOver = true;
    clearTimeout(timer);
    dispose();
    box.remove();
  };
}
