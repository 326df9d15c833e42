import { say, sayOf } from '#words/say.ts';
import { unreachable } from '../assert.ts';
import type { EntryWords } from '../said.ts';
import type { Case } from '../state.ts';
import type { SpecimensEvent } from './events.ts';

/** What happened to a specimen, in words. */
export function specimenWords(current: Case, event: SpecimensEvent): EntryWords {
  const known = current.specimens[event.specimen];
  const subject = known ? `${known.letter} ${known.name}` : event.specimen;
  switch (event.type) {
    case 'specimenAdded':
      return { subject: `${event.letter} ${event.name}`, rest: say`added to the specimens` };
    case 'specimenTaken': {
      const pieces = event.pieces === 1 ? say`one piece` : say`${event.pieces} pieces`;
      const bag = event.bag === 'none' ? '' : say`, bag ${sayOf(event.bag)}`;
      return {
        subject,
        rest: say`out, ${pieces}, ${event.whole ? say`whole` : say`not whole`}${bag}`,
      };
    }
    case 'specimenContained':
      return { subject, rest: say`in pot ${event.pot}, ${sayOf(event.medium) || say`no medium`}` };
    case 'specimenLabelled':
      return { subject, rest: say`labelled by ${event.labelledBy}` };
    case 'specimenReadBack': {
      const result = event.agrees ? say`read back` : say`read back, not so: ${event.reason ?? ''}`;
      return { subject, rest: `${result}, ${event.readBy}` };
    }
    case 'specimenHandedOver':
      return { subject, rest: say`handed over to ${event.to}` };
    case 'specimenNotTaken':
      return { subject, rest: say`not taken: ${event.reason}` };
    case 'specimenPartLeft':
      return { subject, rest: say`part stays: ${event.reason}` };
    default:
      return unreachable(event);
  }
}
