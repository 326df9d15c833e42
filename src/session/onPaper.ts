import { minutesBetween } from '#engine/quantities.ts';
import { instantText } from './browserPorts.ts';

/**
 * The instant that a time of day on paper means: today's, or that of the evening before where today's is still to
 * come. Undefined where it is no time of day.
 *
 * Units: `time` as 13:40; `now` an instant.
 */
export function onPaper(time: string, now: string): string | undefined {
  const [, hours, minutes] = /^(\d\d):(\d\d)$/.exec(time) ?? [];
  if (hours === undefined || minutes === undefined) return undefined;
  if (Number(hours) > 23 || Number(minutes) > 59) return undefined;
  const day = new Date(now);
  day.setHours(Number(hours), Number(minutes), 0, 0);
  if (minutesBetween(day.toISOString(), now) < 0) day.setDate(day.getDate() - 1);
  return instantText(day);
}
