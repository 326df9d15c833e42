import { lengthWords } from '#words/dates.ts';
import { say } from '#words/say.ts';
import type { Clock } from './ports.ts';

/** Smaller differences are the ordinary setting of a clock by its network. Units: milliseconds. */
const jumpLeastMs = 90_000;

/** Says what became of the tablet's clock since the last entry; undefined where nothing did. */
export type ClockWatch = {
  /** Units: `at` and `lastAt` are instants, of this entry and of the last one of the case. */
  readonly jumpBefore: (at: string, lastAt: string) => string | undefined;
  /** From here on the next entry is compared with this one. */
  readonly entered: (at: string) => void;
};

/**
 * Compares the clock, which people and networks set, with the one of the device that only runs. After a start there is
 * only the last entry to compare with.
 *
 * Some devices stop the running clock while they sleep (W3C High Resolution Time, issue 115): a sleep then looks like
 * a clock that was set ahead, and the sentence says either.
 */
export function createClockWatch({ steadyMs }: Clock): ClockWatch {
  let last: { readonly wallMs: number; readonly steadyMs: number } | undefined;
  return {
    jumpBefore: (at, lastAt) => {
      const wallMs = Date.parse(at);
      if (last === undefined || steadyMs === undefined) {
        const backMs = Date.parse(lastAt) - wallMs;
        return backMs >= jumpLeastMs ? setBack(backMs) : undefined;
      }
      const offMs = wallMs - last.wallMs - (steadyMs() - last.steadyMs);
      if (offMs >= jumpLeastMs)
        return say`The clock of this tablet went ahead by ${lengthWords(offMs)}: it was set, or the tablet slept.`;
      return -offMs >= jumpLeastMs ? setBack(-offMs) : undefined;
    },
    entered: (at) => {
      last = { wallMs: Date.parse(at), steadyMs: steadyMs?.() ?? 0 };
    },
  };
}

const setBack = (ms: number): string =>
  say`The clock of this tablet was set back by ${lengthWords(ms)}. The order of entries is right, times are not.`;
