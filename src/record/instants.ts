import { say } from '#words/say.ts';

/** The time of day of an instant, as the clock in the room showed it. */
export const timeWords = (instant: string, withSeconds = false): string =>
  instant.slice(11, withSeconds ? 19 : 16);

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

/** The day of an instant in words: 25 November 2026. */
export function dateWords(instant: string): string {
  const [year = '', month = '1', day = '1'] = instant.slice(0, 10).split('-');
  return say`${Number(day)} ${months()[Number(month) - 1] ?? month} ${year}`;
}

/** An instant with the offset of another, `+01:00` or `Z`, so that its time of day is that of the room. */
export function instantText(instant: string, offset: string): string {
  const parts = /^([+-])(\d\d):(\d\d)$/.exec(offset);
  if (!parts) return new Date(instant).toISOString();
  const minutes = (Number(parts[2]) * 60 + Number(parts[3])) * (parts[1] === '-' ? -1 : 1);
  const local = new Date(Date.parse(instant) + minutes * 60_000).toISOString();
  return `${local.slice(0, 19)}${offset}`;
}
