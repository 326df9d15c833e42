import { say, sayOf } from '#words/say.ts';
import { type Branch, el } from '../tree.ts';
import type { WholeRecord } from '../wholeRecord.ts';
import { entriesPart, findingsPart, linesPart } from './log.ts';
import {
  countsList,
  headOf,
  lossPart,
  specimensPart,
  staysPart,
  timesPart,
  verdictBox,
} from './summary.ts';
import { timelinePicture } from './timelinePicture.ts';

/** What every page that leaves the tablet says of itself. */
export const caution =
  "Lastlook is an aid. It records what the team said and counted; it never says that it is safe to close. Local policy, manufacturers' instructions and licensed practitioners decide.";

/** The whole case on paper: one page that is read in a minute, then where every piece is, and every entry. */
export function recordTree(record: WholeRecord): Branch {
  const { current, code } = record;
  return el(
    'article',
    { class: 'record' },
    headOf(current, code, say`Count and checklist record`),
    verdictBox(current),
    el('section', {}, el('h2', {}, say`Counts`), countsList(current)),
    el('section', {}, el('h2', {}, say`What stays in the patient`), staysPart(current)),
    el('section', {}, el('h2', {}, say`Specimens`), specimensPart(current)),
    el(
      'section',
      {},
      el('h2', {}, say`Checkpoints and doses`),
      timesPart(current),
      lossPart(current),
    ),
    el('section', {}, el('h2', {}, say`The case in time`), timelinePicture(record)),
    el('p', { class: 'record-caution' }, sayOf(caution)),
    el(
      'section',
      { class: 'record-rest' },
      el('h2', {}, say`Where every piece is`),
      findingsPart(current),
      linesPart(current),
    ),
    el('section', {}, el('h2', {}, say`Every entry, in order`), entriesPart(record)),
  );
}
