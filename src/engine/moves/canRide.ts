import type { Line } from '../sheet.ts';

/**
 * Whether pieces of a line can leave with a specimen: ties, clips, stitches, fragments, and what started inside.
 *
 * A swab, a sharp or an instrument that went into the pot is looked for there and counted off the field.
 * Rules: L14.
 * Source: common practice, no source; swabs thrown away around tissue are a known way of losing them.
 */
export const canRide = (line: Line): boolean =>
  line.class === 'small' || line.startsIn !== undefined;
