import type { Clock, Ids } from './ports.ts';

/** The clock of this device, as ISO text with its offset, to the second. */
export const deviceClock: Clock = {
  now: () => thisSecond(Math.floor(Date.now() / 1000)),
  steadyMs: () => performance.now(),
};

let last = { second: Number.NaN, text: '' };

/** The text of a second. It is asked for several times a tap, and made once. */
function thisSecond(second: number): string {
  if (second !== last.second) last = { second, text: instantText(new Date(second * 1000)) };
  return last.text;
}

/** An instant with the offset that this device has then. */
export function instantText(date: Date): string {
  const offset = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + offset * 60_000).toISOString().slice(0, 19);
  const sign = offset < 0 ? '-' : '+';
  const pad = (number: number) => String(number).padStart(2, '0');
  const minutes = Math.abs(offset);
  return `${local}${sign}${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`;
}

export const randomIds: Ids = { next: () => crypto.randomUUID() };
