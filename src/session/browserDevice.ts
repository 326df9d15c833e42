import { lengthWords } from '#words/dates.ts';
import { say } from '#words/say.ts';
import { type Awake, keepAwake } from './keepAwake.ts';
import type { DevicePort } from './ports.ts';

/** What browsers tell of a battery, where they do (W3C Battery Status API). */
type Battery = EventTarget & { readonly charging: boolean; readonly level: number };

/** Parts of a full battery at which it is said, each once on the way down. Common practice, no source. */
const lowLevels = [0.05, 0.1, 0.2] as const;

const clockEveryMs = 5000;
/** As in the record: smaller differences are the ordinary setting of a clock by its network. */
const jumpLeastMs = 90_000;

/** The screen that sleeps, the battery and the clock of this tablet. */
export function browserDevice(): DevicePort & Awake {
  let tell: Parameters<DevicePort['watch']>[0] = () => undefined;
  const awake = keepAwake((sentence) => tell('awake', sentence));
  return {
    ...awake,
    watch: (listener) => {
      tell = listener;
      watchClock((sentence) => tell('clock', sentence));
      void watchBattery((sentence) => tell('battery', sentence));
    },
  };
}

/** Says when the battery is low and nothing charges it. Silent where the browser does not tell. */
export async function watchBattery(said: (sentence: string | undefined) => void): Promise<void> {
  const { getBattery } = navigator as { getBattery?: () => Promise<Battery> }; // not in the types of the page
  const battery = await getBattery?.call(navigator).catch(() => undefined);
  if (!battery) return;
  let before: string | undefined;
  const look = () => {
    const low = lowLevels.find((level) => battery.level <= level);
    const now =
      low === undefined || battery.charging
        ? undefined
        : say`The battery is at ${Math.round(low * 100)} % or less. Connect the tablet to its charger.`;
    if (now !== before) said(now);
    before = now;
  };
  battery.addEventListener('levelchange', look);
  battery.addEventListener('chargingchange', look);
  look();
}

/**
 * Says at once when the clock was set back: times then stand in another order than what was done. One that goes ahead
 * is most often a tablet that slept; the next entry of a case notes it in the record, and nothing covers the screen.
 */
export function watchClock(said: (sentence: string) => void): void {
  let offMs = Date.now() - performance.now();
  setInterval(() => {
    const nowMs = Date.now() - performance.now();
    const backMs = offMs - nowMs;
    offMs = nowMs;
    if (backMs < jumpLeastMs) return;
    const what = say`The clock of this tablet was set back by ${lengthWords(backMs)}.`;
    said(`${what} ${say`Compare it with the clock of the room.`}`);
  }, clockEveryMs);
}
