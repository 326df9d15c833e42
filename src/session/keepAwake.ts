import { say } from '#words/say.ts';

/** Keeps the screen of the tablet awake while a case is open. */
export type Awake = { readonly hold: () => void; readonly release: () => void };

/**
 * Asks the browser not to let the screen sleep; asks again when the page comes back to the front.
 *
 * Fails: calls `said` with a sentence, once, where the browser cannot.
 */
export function keepAwake(said: (sentence: string) => void): Awake {
  let wanted = false;
  let lock: WakeLockSentinel | undefined;
  let hasSaid = false;

  async function ask(): Promise<void> {
    if (!wanted || lock || document.visibilityState !== 'visible') return;
    try {
      if (!('wakeLock' in navigator)) throw new Error('none');
      const held = await navigator.wakeLock.request('screen');
      held.addEventListener('release', () => {
        lock = undefined;
      });
      lock = held;
    } catch {
      if (!hasSaid) said(say`This tablet cannot be kept awake. Set its screen not to sleep.`);
      hasSaid = true;
    }
  }

  document.addEventListener('visibilitychange', () => void ask());
  return {
    hold: () => {
      wanted = true;
      void ask();
    },
    release: () => {
      wanted = false;
      void lock?.release();
      lock = undefined;
    },
  };
}
