import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { elementValue } from './gs1.ts';
import type { Scan } from './readScan.ts';

export type WristbandScanned =
  | { readonly agrees: true }
  /** No wristband: something else was scanned. */
  | { readonly agrees: false; readonly isOther: false; readonly sentence: string }
  /** `isSure`: it has the form of a wristband's number. Else somebody must say whether it was one. */
  | {
      readonly agrees: false;
      readonly isOther: true;
      readonly isSure: boolean;
      readonly said: string;
      readonly sentence: string;
    };

/**
 * Compares a scanned wristband with the case. One that says another number stops everything.
 *
 * A wristband holds the number as it is, or as a recipient of GS1, (8018). A plain code of another form than the
 * patient's number may be on anything in a theatre: whether it was a wristband is asked, never guessed.
 * Rule of the trade: two identifiers; the second, the name, is read aloud.
 */
export function compareWristband({ patient }: Case, scan: Scan): WristbandScanned {
  const said = numberIn(scan);
  if (said === undefined) {
    const sentence = say`That is not a wristband that can be read here. Read name and number aloud.`;
    return { agrees: false, isOther: false, sentence };
  }
  if (folded(said) === folded(patient.number)) return { agrees: true };
  const bare = { agrees: false, isOther: true, said } as const;
  const whose = say`This case is of ${patient.name}, ${patient.number}.`;
  if (scan.kind === 'plain' && !isAlike(said, patient.number)) {
    const asked = say`If that was a wristband, it is of another patient. Was it one?`;
    return { ...bare, isSure: false, sentence: say`A code says ${short(said)}. ${whose} ${asked}` };
  }
  return {
    ...bare,
    isSure: true,
    sentence: say`Stop. The wristband says ${short(said)}. ${whose} ${findOut()}`,
  };
}

function numberIn(scan: Scan): string | undefined {
  if (scan.kind === 'plain') return scan.text;
  return scan.kind === 'gs1' ? elementValue(scan.elements, '8018') : undefined;
}

const findOut = () => say`Find out who this is before anything else is done.`;

/** Case and spaces do not make a number another one. */
const folded = (words: string): string => words.replace(/\s+/g, '').toLowerCase();

/**
 * Whether two numbers are made alike: letters and digits in the same order, and as long but for one. TR-100 is like
 * XY-417 and like R-100, and not like AX4711-B. Our own rule, no source: it decides what is asked, not what is let by.
 */
function isAlike(one: string, other: string): boolean {
  const bare = signsOf(one);
  const otherBare = signsOf(other);
  const runs = (words: string) => words.replace(/\d+/g, '9').replace(/\p{L}+/gu, 'a');
  return Math.abs(bare.length - otherBare.length) <= 1 && runs(bare) === runs(otherBare);
}

const signsOf = (words: string): string => folded(words).replace(/[^\p{L}\d]/gu, '');

const short = (words: string): string => (words.length > 40 ? `${words.slice(0, 40)}…` : words);
