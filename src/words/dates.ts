import { say } from './say.ts';

const months = () =>
  [
    say`January`,
    say`February`,
    say`March`,
    say`April`,
    say`May`,
    say`June`,
    say`July`,
    say`August`,
    say`September`,
    say`October`,
    say`November`,
    say`December`,
  ] as const;

/** The day of an instant, or a day, as the language writes it: 25 November 2026. */
export function dateWords(instant: string): string {
  const [year = '', month = '1', day = '1'] = instant.slice(0, 10).split('-');
  return say`${Number(day)} ${months()[Number(month) - 1] ?? month} ${year}`;
}

/** The same with the time of day: 25 November 2026, 13:20. */
export const dateAndTime = (instant: string): string =>
  say`${dateWords(instant)}, ${instant.slice(11, 16)}`;

/** How long something took, in the largest unit of which it is two or more. Units: `ms` in milliseconds. */
export function lengthWords(ms: number): string {
  const minutes = Math.round(ms / 60_000);
  const hours = Math.round(minutes / 60);
  if (minutes < 120) return say`${minutes} min`;
  return hours < 48 ? say`${hours} h` : say`${Math.round(hours / 24)} days`;
}
