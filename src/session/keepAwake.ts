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
  let isAsking = false;
  let hasSaid = false;

  async function ask(): Promise<void> {
    if (!wanted || lock || isAsking || document.visibilityState !== 'visible') return;
    isAsking = true;
    try {
      if (!('wakeLock' in navigator)) throw new Error('none');
      const held = await navigator.wakeLock.request('screen');
      held.addEventListener('release', () => {
        lock = undefined;
      });
      if (wanted) lock = held;
      else void held.release(); // the case was left while the browser thought about it
    } catch {
      if (!hasSaid) said(say`This tablet cannot be kept awake. Set its screen not to sleep.`);
      hasSaid = true;
    } finally {
      isAsking = false;
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
