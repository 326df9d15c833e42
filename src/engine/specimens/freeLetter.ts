import type { Case } from '../state.ts';

/**
 * The letter of the sheet where no specimen of the case has it, else the next that is free.
 *
 * Rules: S1.
 */
export function freeLetter(specimens: Case['specimens'], wanted: string | undefined): string {
  const used = Object.values(specimens).map((one) => one.letter);
  if (wanted !== undefined && !used.includes(wanted)) return wanted;
  const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
  return [...letters].find((letter) => !used.includes(letter)) ?? `A${used.length}`;
}
