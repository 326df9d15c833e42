import { say, sayAll, sayOf } from '#words/say.ts';
import { unreachable } from '../assert.ts';
import { type EntryWords, lineName } from '../said.ts';
import type { Case } from '../state.ts';
import { momentName } from './countsDue.ts';
import type { CountsEvent } from './events.ts';

/** What happened to a count, in words. */
export function countWords(current: Case, event: CountsEvent): EntryWords {
  switch (event.type) {
    case 'countBegun':
      return {
        subject: momentName(current, event.moment),
        rest: say`begun by ${event.scrub} and ${event.circulator}`,
      };
    case 'entered': {
      const { field, off } = event.found;
      const apart = off > 0 ? say`${field} in the field, ${off} off` : `${field}`;
      const how = event.together ? say`counted ${apart} of each part` : say`counted ${apart}`;
      return { subject: lineName(current, event.line), rest: how };
    }
    case 'countAgreed':
      return {
        subject: momentName(current, event.moment),
        rest: say`agreed by ${sayAll(event.agreedBy)}, ${event.outcomes.length} lines`,
      };
    case 'countAbandoned':
      return { subject: say`Count`, rest: say`broken off: ${event.reason}` };
    case 'recounted':
      return {
        subject: event.outcomes.map(({ line }) => lineName(current, line)).join(', '),
        rest: say`recounted by ${sayAll(event.agreedBy)}`,
      };
    case 'relieved': {
      const how = event.short ? say`stands in for` : say`takes over from`;
      return { subject: event.to, rest: say`${how} ${event.from} as ${sayOf(event.role)}` };
    }
    case 'waived':
      return { subject: momentName(current, event.moment), rest: say`waived: ${event.reason}` };
    default:
      return unreachable(event);
  }
}
