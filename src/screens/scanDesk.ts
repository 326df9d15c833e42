import { createEffect, createMemo, onCleanup } from 'solid-js';
import type { listenForScans } from '#scan/listenForScans.ts';
import type { ScannerSettings } from '#session/state.ts';

/** Answers whether it was for it. A scan is offered to whoever asked last, then to those before. */
export type ScanTaker = (text: string) => boolean;

/** Where scans come in: one listener for the whole page, so that none is lost while a screen is drawn. */
export type ScanDesk = {
  /** Takes scans for as long as whoever asks is on the screen. */
  readonly take: (taker: ScanTaker) => void;
  /** What a camera has read comes the same way as what a scanner types. */
  readonly hear: (text: string) => void;
};

/** A scan that comes while nobody listens waits this long for a screen that does. Units: milliseconds. */
const waitMs = 5000;

let listen: typeof listenForScans | undefined;

/** Reads what tells a scanner from a person. It is not in the page's first load, and is asked for at once. */
export async function readListener(): Promise<void> {
  ({ listenForScans: listen } = await import('#scan/listenForScans.ts'));
}

/** Makes it, and listens until the page goes. */
export function createScanDesk(settings: () => ScannerSettings): ScanDesk {
  let takers: readonly ScanTaker[] = [];
  let waiting: { readonly text: string; readonly atMs: number } | undefined;

  function hear(text: string): void {
    const isTaken = [...takers].reverse().some((taker) => taker(text));
    waiting = isTaken ? undefined : { text, atMs: performance.now() };
  }

  function take(taker: ScanTaker): void {
    takers = [...takers, taker];
    onCleanup(() => {
      takers = takers.filter((other) => other !== taker);
    });
    const late = waiting;
    if (late && performance.now() - late.atMs < waitMs) queueMicrotask(() => hear(late.text));
    waiting = undefined;
  }

  // Listening anew would forget the first half of a scan: only other settings are a reason.
  const kept = createMemo(settings);
  createEffect(() => {
    const wanted = kept();
    let stop: (() => void) | undefined;
    let isOver = false;
    if (listen) stop = listen(hear, wanted);
    else
      void readListener().then(
        () => {
          if (!isOver) stop = listen?.(hear, wanted);
        },
        () => undefined, // the file is kept with all others of its version: a page without it has more to say
      );
    onCleanup(() => {
      isOver = true;
      stop?.();
    });
  });
  return { take, hear };
}
