import { say, sayOf } from '#words/say.ts';
import { unreachable } from '../assert.ts';
import { type EntryWords, lineName } from '../said.ts';
import type { Case } from '../state.ts';
import type { NotesEvent } from './events.ts';

/** What was noted, weighed, measured or handed over, in words. */
export function noteWords(current: Case, event: NotesEvent): EntryWords {
  switch (event.type) {
    case 'noteWritten':
      return { subject: say`Note`, rest: event.text };
    case 'weighed':
      return {
        subject: lineName(current, event.line),
        rest: say`${event.n} weigh ${event.wetG} g`,
      };
    case 'fluidMeasured':
      return { subject: say`Fluid, ${sayOf(event.kind)}`, rest: say`${event.ml} mL` };
    case 'handedOver':
      return {
        subject: lineName(current, event.line),
        rest: say`handed over to ${event.to}: ${event.plan}`,
      };
    case 'allergiesSaid':
      return {
        subject: say`Allergies`,
        rest: event.known.length === 0 ? say`none known` : event.known.join(', '),
      };
    default:
      return unreachable(event);
  }
}
