import type { Case } from '#engine/state.ts';
import { personOfBadge } from '#scan/badgeIn.ts';
import { compareWristband } from '#scan/compareWristband.ts';
import { labelAnywhere } from '#scan/labelCode.ts';
import { packOf } from '#scan/packOf.ts';
import type { Scan } from '#scan/readScan.ts';
import { say } from '#words/say.ts';

/** What a scan is to a case, on whatever screen it comes. */
export type Heard =
  /** The wristband of this patient. */
  | { readonly is: 'band' }
  /** Stops everything. `note` goes into the record. */
  | {
      readonly is: 'stop';
      readonly sentence: string;
      readonly note: string;
      readonly isBand: boolean;
    }
  /** May have been a wristband: somebody says. */
  | { readonly is: 'asked'; readonly sentence: string }
  | { readonly is: 'said'; readonly sentence: string };

/** Whose the number was is not written down: it is somebody else's, and has no place in this record. */
export const otherBand = () =>
  say`Stopped: a wristband with another number than this patient's was scanned.`;
const otherLabel = () => say`Stopped: the label of another patient's specimen was scanned.`;
const hiddenWords = () =>
  say`Stop. The wristband is not of the patient of this case. Find out who this is.`;

/** Where it is heard. `isHidden`: the tablet is locked, and says nothing of the patient. */
export type HeardWhere = {
  readonly isHidden: boolean;
  readonly now: string;
  readonly people: readonly { readonly name: string; readonly badge?: string }[];
};

/**
 * What is to be made of a scan that no screen has asked for. Nothing that is said names a number of pieces.
 */
export function heardIn(current: Case, scan: Scan, { isHidden, now, people }: HeardWhere): Heard {
  if (scan.kind === 'label') return ofLabel(current, scan.text);
  if (isWristband(scan)) {
    const compared = compareWristband(current, scan);
    if (compared.agrees) return { is: 'band' };
    const sentence = isHidden ? hiddenWords() : compared.sentence;
    const isSure = compared.isOther && compared.isSure;
    const person = personOfBadge(people, scan);
    if (person && !isSure)
      return { is: 'said', sentence: say`That is the badge of ${person.name}.` };
    // Staff and patients may have numbers of one kind: then a person says which it was.
    if (isSure && !person) return { is: 'stop', sentence, note: otherBand(), isBand: true };
    return { is: 'asked', sentence };
  }
  if (isBadge(scan)) return { is: 'said', sentence: badgeWords(people, scan) };
  return { is: 'said', sentence: otherwise(current, scan, now) };
}

function badgeWords(people: HeardWhere['people'], scan: Scan): string {
  const person = personOfBadge(people, scan);
  return person ? say`That is the badge of ${person.name}.` : say`That badge is not known here.`;
}

function ofLabel(current: Case, text: string): Heard {
  const found = labelAnywhere(current, text);
  if (found.is === 'here') {
    const { letter, name } = found.specimen;
    const whose = say`That is the label of ${letter} ${name}, of this patient.`;
    return { is: 'said', sentence: say`${whose} Scan it where it is labelled.` };
  }
  const { sentence, isOther } = found;
  return isOther
    ? { is: 'stop', sentence, note: otherLabel(), isBand: false }
    : { is: 'said', sentence };
}

/** A wristband, or a badge. */
const isWristband = (scan: Scan): boolean =>
  scan.kind === 'plain' || (scan.kind === 'gs1' && scan.elements.some(({ ai }) => ai === '8018'));

const isBadge = (scan: Scan): boolean =>
  scan.kind === 'gs1' && scan.elements.some(({ ai }) => ai === '8017');

function otherwise(current: Case, scan: Scan, now: string): string {
  if (scan.kind === 'unreadable') return scan.sentence;
  const pack = packOf(scan, now);
  if (!pack.ok) return pack.sentence;
  return current.counts.running
    ? say`That is a pack. A count is running: nothing is added before it is agreed or broken off.`
    : say`That is a pack. It is added on the counting frame: scan it there.`;
}
