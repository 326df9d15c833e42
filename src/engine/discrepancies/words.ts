import { say, sayAll } from '#words/say.ts';
import { unreachable } from '../assert.ts';
import { isInside, type Place } from '../places.ts';
import { placeWords } from '../placeWords.ts';
import { type EntryWords, lineName } from '../said.ts';
import type { Case, DiscrepancyStep } from '../state.ts';
import type { DiscrepanciesEvent } from './events.ts';

const stepWords = (): Readonly<Record<DiscrepancyStep, string>> => ({
  'surgeon-told': say`surgeon told`,
  'record-read': say`record read back`,
  'field-searched': say`wound and field searched`,
  'room-searched': say`room searched`,
  xray: say`X-ray`,
});

/** What was done about a discrepancy, in words. */
export function discrepancyWords(current: Case, event: DiscrepanciesEvent): EntryWords {
  switch (event.type) {
    case 'discrepancyStepped': {
      const skipped = event.skipped === undefined ? '' : say`, not done: ${event.skipped}`;
      const rest = `${stepWords()[event.step]}, ${event.doneBy}${skipped}`;
      return { subject: lineName(current, event.line), rest };
    }
    case 'found':
      return {
        subject: lineName(current, event.line),
        rest: say`${event.n} found, now ${lyingWords(current, event.place)}`,
      };
    case 'declared':
      return {
        subject: lineName(current, event.line),
        rest: say`${event.n} declared unaccounted for by ${sayAll(event.agreedBy)}: ${event.reason}`,
      };
    case 'amended':
      return {
        subject: lineName(current, event.line),
        rest: say`baseline amended by ${event.n}, ${event.agreedBy.join(', ')}: ${event.reason}`,
      };
    case 'xrayRead': {
      const what = event.result === 'seen' ? say`something seen` : say`nothing seen`;
      const field = event.wholeField ? say`whole field` : say`not the whole field`;
      return { subject: say`X-ray`, rest: say`read by ${event.readBy}: ${what}, ${field}` };
    }
    case 'xrayDeferred':
      return {
        subject: say`X-ray`,
        rest: say`deferred by ${sayAll(event.agreedBy)}: ${event.reason}`,
      };
    default:
      return unreachable(event);
  }
}

/** Where a piece lies. */
function lyingWords(current: Case, place: Place): string {
  if (isInside(place)) return say`in ${placeWords(current, place)}`;
  return place === 'table' ? say`on the table` : placeWords(current, place);
}
