import type { Case } from '#engine/state.ts';
import { elementValue } from './gs1.ts';
import type { Scan } from './readScan.ts';

export type WristbandScanned =
  | { readonly agrees: true }
  | { readonly agrees: false; readonly isOther: boolean; readonly sentence: string };

/**
 * Compares a scanned wristband with the case. One that says another number stops everything.
 *
 * A wristband holds the number as it is, or as a recipient of GS1, (8018). `isOther` is false where the code was no
 * wristband at all. Rule of the trade: two identifiers; the second, the name, is read aloud.
 */
export function compareWristband({ patient }: Case, scan: Scan): WristbandScanned {
  const said = numberIn(scan);
  if (said === undefined) {
    const sentence = 'That is not a wristband that can be read here. Read name and number aloud.';
    return { agrees: false, isOther: false, sentence };
  }
  if (folded(said) === folded(patient.number)) return { agrees: true };
  return {
    agrees: false,
    isOther: true,
    sentence: `Stop. The wristband says ${said}. This case is of ${patient.name}, ${patient.number}. Find out who this is before anything else is done.`,
  };
}

function numberIn(scan: Scan): string | undefined {
  if (scan.kind === 'plain') return scan.text;
  return scan.kind === 'gs1' ? elementValue(scan.elements, '8018') : undefined;
}

/** Case and spaces do not make a number another one. */
const folded = (words: string): string => words.replace(/\s+/g, '').toLowerCase();
