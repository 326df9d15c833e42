import { createEffect, createMemo, onCleanup } from 'solid-js';
import { listenForScans } from '#scan/listenForScans.ts';
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
  createEffect(() => onCleanup(listenForScans(hear, kept())));
  return { take, hear };
}
