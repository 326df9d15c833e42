/** Limits of what can be said in one entry. */
export const textLengthMax = 500;
const piecesMax = 999;

/** Whole pieces, 1 to 999. */
export const isQuantity = (value: unknown): value is number =>
  typeof value === 'number' && Number.isInteger(value) && value >= 1 && value <= piecesMax;

/** What can be seen at a count: whole pieces, 0 to 999. */
export const isSeen = (value: unknown): value is number =>
  typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= piecesMax;

/** A measured number, 0 to 99,999. */
export const isMeasure = (value: unknown): value is number =>
  typeof value === 'number' && Number.isFinite(value) && value >= 0 && value <= 99_999;

export const isText = (value: unknown): value is string =>
  typeof value === 'string' && value.trim().length > 0 && value.length <= textLengthMax;

/** An instant as ISO text with an offset. */
export function isInstant(value: unknown): value is string {
  return (
    typeof value === 'string' &&
    /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d{1,3})?)?(Z|[+-]\d\d:\d\d)$/.test(value) &&
    Number.isFinite(Date.parse(value))
  );
}

/** Whole days from one instant to another; 0 within 24 hours, and when the second is earlier. */
export const daysSince = (since: string, now: string): number =>
  Math.max(0, Math.floor(minutesBetween(since, now) / (24 * 60)));

/** Minutes from one instant to another; negative when the second is earlier. */
export const minutesBetween = (from: string, to: string): number =>
  (Date.parse(to) - Date.parse(from)) / 60_000;
