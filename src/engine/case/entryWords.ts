import { say } from '#words/say.ts';
import { unreachable } from '../assert.ts';
import { checkpointWords } from '../checkpoints/words.ts';
import { closureWords } from '../closures/words.ts';
import { countWords } from '../counts/words.ts';
import { discrepancyWords } from '../discrepancies/words.ts';
import { movesWords } from '../moves/words.ts';
import { noteWords } from '../notes/words.ts';
import type { EntryWords } from '../said.ts';
import { specimenWords } from '../specimens/words.ts';
import type { Case } from '../state.ts';
import type { CaseEvent, Corrected } from './events.ts';
import { signedWords } from './signedWords.ts';

/** What an event says, for the foot of the screen and the record. Numbers of a blind count stay out while it runs. */
export function entryWords(current: Case, event: CaseEvent): EntryWords {
  const words = wordsOf(current, event);
  const beside = [
    ...(event.fromPaper ? [paperWords(event.paperAt)] : []),
    ...(event.signed ? [signedWords(event.signed)] : []),
  ];
  if (beside.length === 0) return words;
  return { ...words, rest: [words.rest, ...beside].filter(Boolean).join(' · ') };
}

const paperWords = (at: string | undefined): string =>
  at === undefined ? say`from paper` : say`from paper, ${at.slice(11, 16)}`;

function wordsOf(current: Case, event: CaseEvent): EntryWords {
  switch (event.type) {
    case 'added':
    case 'moved':
    case 'turned':
    case 'broken':
    case 'carriedIn':
    case 'explained':
    case 'noneFound':
      return movesWords(current, event);
    case 'countBegun':
    case 'entered':
    case 'countAgreed':
    case 'countAbandoned':
    case 'recounted':
    case 'relieved':
    case 'waived':
      return countWords(current, event);
    case 'discrepancyStepped':
    case 'found':
    case 'declared':
    case 'amended':
    case 'xrayRead':
    case 'xrayDeferred':
      return discrepancyWords(current, event);
    case 'specimenAdded':
    case 'specimenTaken':
    case 'specimenContained':
    case 'specimenLabelled':
    case 'specimenReadBack':
    case 'specimenHandedOver':
    case 'specimenNotTaken':
    case 'specimenPartLeft':
      return specimenWords(current, event);
    case 'checkpointBegun':
    case 'answered':
    case 'checkpointFinished':
    case 'checkpointReopened':
    case 'incised':
    case 'dosed':
      return checkpointWords(current, event);
    case 'looked':
    case 'closed':
    case 'reopened':
    case 'finished':
      return closureWords(current, event);
    case 'noteWritten':
    case 'weighed':
    case 'fluidMeasured':
    case 'handedOver':
    case 'allergiesSaid':
      return noteWords(current, event);
    case 'opened':
      return { subject: say`Case opened`, rest: event.sheet.title };
    case 'variantChanged': {
      const variant = current.sheet.variants.find((one) => one.id === event.to);
      return { subject: variant?.name ?? event.to, rest: say`is the plan now` };
    }
    case 'corrected':
      return {
        subject: say`Taken back`,
        rest: say`entry ${event.corrects}: ${correctedWords(current, event)}`,
      };
    default:
      return unreachable(event);
  }
}

const correctedWords = (current: Case, { subject }: Corrected): string =>
  current.lines.get(subject)?.name ?? current.specimens[subject]?.name ?? subject;
