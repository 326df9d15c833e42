import type { Line } from '../sheet.ts';

/**
 * Whether something that was left is to come out again: packing, and what may stay only for a reason, such as a drain.
 * What is left with a lot number is an implant, and stays.
 *
 * Common practice, no source; the sheet says what may stay and what must be said of it.
 */
export function mustComeOut(line: Line | undefined): boolean {
  if (!line) return false;
  if (line.class === 'swab') return true;
  return line.stay.may === 'reason' && !line.stay.needs.includes('lot');
}
