import type { IdlePort } from './ports.ts';

/** Touches of this page, whatever they hit, and its steady clock. */
export const browserIdle: IdlePort = {
  onTouch: (listener) => {
    for (const type of ['pointerdown', 'keydown'])
      addEventListener(type, listener, { capture: true, passive: true });
  },
  every: (ms, work) => void setInterval(work, ms),
  steadyMs: () => performance.now(),
};
