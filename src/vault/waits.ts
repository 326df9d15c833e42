/** Seconds to wait after so many wrong PINs of a person in a row; the last holds for all further ones. */
const waitsS = [0, 0, 0, 10, 30, 60, 300, 900, 3600];

/**
 * How long a person's PIN is not taken after wrong ones.
 *
 * There is no end to it, since a team could be shut out by somebody who taps at random: at one try an hour, 10,000
 * PINs take more than a year.
 *
 * Units: milliseconds.
 */
export const waitAfterMs = (wrongOnes: number): number =>
  1000 * (waitsS[Math.min(wrongOnes, waitsS.length - 1)] ?? 0);
