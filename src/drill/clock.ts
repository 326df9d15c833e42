/** An instant, as ISO text with an offset, some minutes later; the offset is kept. */
export function minutesLater(instant: string, minutes: number): string {
  const offset = offsetOf(instant);
  const shifted = new Date(Date.parse(instant) + minutes * 60_000 + minutesOf(offset) * 60_000);
  return shifted.toISOString().slice(0, 19) + offset;
}

/** The same day at another time of day (`13:45` or `13:45:10`). */
export function atTimeOfDay(instant: string, time: string): string {
  const whole = time.length === 5 ? `${time}:00` : time;
  return `${instant.slice(0, 11)}${whole}${offsetOf(instant)}`;
}

export const isTimeOfDay = (text: string): boolean =>
  /^([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/.test(text);

const offsetOf = (instant: string): string => /(Z|[+-]\d\d:\d\d)$/.exec(instant)?.[0] ?? 'Z';

function minutesOf(offset: string): number {
  if (offset === 'Z') return 0;
  const [hours = 0, minutes = 0] = offset.slice(1).split(':').map(Number);
  return (offset.startsWith('-') ? -1 : 1) * (hours * 60 + minutes);
}
