/** What the same case costs on paper: marks and words, counted from the structure of the published forms. */
import type { CaseEvent } from '#engine/case/events.ts';
import { isInside } from '#engine/places.ts';

/** A mark is a tick or a stroke; a word is a name, a number or a time that is written into a field. */
export type PaperCost = { readonly marks: number; readonly words: number };

/**
 * How it is counted, for whoever reads the table. WHO Surgical Safety Checklist 2009: the boxes of its three parts. A
 * count sheet of rows and columns as theatres and our own paper form have it: common practice, no source.
 */
export const howPaperIsCounted = [
  'Paper, counted from the events of the same drill: a tick for each of the 19 boxes of the WHO list of 2009 (7, 7',
  'and 5); on the count sheet one number for each line of each count, one for each thing that is added, a stroke for',
  'each piece in or out, and two names for each count; name, number and date of birth on each of three forms; the team',
  'and the procedure once; eight fields on each label, and who read it back and who took it; medicine and time of each',
  'dose; the time of the incision and of each closure; each weight and volume. What is said aloud costs nothing on either.',
] as const;

/** Sign in, time out, sign out. */
const whoBoxes = 7 + 7 + 5;
const forms = 3;
const headWords = 3;
const teamAndProcedure = 5;
const labelWords = 8;

const written: Readonly<Partial<Record<CaseEvent['type'], (event: CaseEvent) => number>>> = {
  added: () => 1,
  countAgreed: (event) => numbersOf(event) + 2,
  recounted: (event) => numbersOf(event) + 2,
  specimenLabelled: () => labelWords,
  specimenReadBack: () => 1,
  specimenHandedOver: () => 2,
  dosed: () => 2,
  incised: () => 1,
  closed: () => 1,
  weighed: () => 2,
  fluidMeasured: () => 1,
  explained: () => 2,
  noteWritten: () => 1,
  discrepancyStepped: () => 1,
  found: () => 2,
};

const numbersOf = (event: CaseEvent): number => ('outcomes' in event ? event.outcomes.length : 0);

/** Pieces that went into or out of the patient, each of which is a stroke. */
const strokesOf = (event: CaseEvent): number =>
  'postings' in event
    ? event.postings
        .filter(({ place }) => isInside(place))
        .reduce((sum, { by }) => sum + Math.abs(by), 0)
    : 0;

/** The marks and words of a case on paper, from its events. */
export function paperCost(events: readonly CaseEvent[]): PaperCost {
  const marks = events.reduce((sum, event) => sum + strokesOf(event), whoBoxes);
  const heads = forms * headWords + teamAndProcedure;
  const words = events.reduce((sum, event) => sum + (written[event.type]?.(event) ?? 0), heads);
  return { marks, words };
}
