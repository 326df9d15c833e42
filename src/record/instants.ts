/** The time of day of an instant, as the clock in the room showed it. */
export const timeWords = (instant: string, withSeconds = false): string =>
  instant.slice(11, withSeconds ? 19 : 16);

/** An instant with the offset of another, `+01:00` or `Z`, so that its time of day is that of the room. */
export function instantText(instant: string, offset: string): string {
  const parts = /^([+-])(\d\d):(\d\d)$/.exec(offset);
  if (!parts) return new Date(instant).toISOString();
  const minutes = (Number(parts[2]) * 60 + Number(parts[3])) * (parts[1] === '-' ? -1 : 1);
  const local = new Date(Date.parse(instant) + minutes * 60_000).toISOString();
  return `${local.slice(0, 19)}${offset}`;
}
