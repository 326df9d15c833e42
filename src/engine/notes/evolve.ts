import { applied } from '../applied.ts';
import { unreachable } from '../assert.ts';
import { staysOf } from '../closures/handoverOf.ts';
import type { Stamped } from '../decision.ts';
import type { Case, Undo } from '../state.ts';
import type { NotesEvent } from './events.ts';

/** Applies notes, weights, fluids, handovers and allergies. */
export function evolveNotes(current: Case, event: Stamped<NotesEvent>): Case {
  const { at, by } = event;
  switch (event.type) {
    case 'noteWritten': {
      const next = noted(current, event, '', { slice: 'notes', before: current.notes });
      const { text, settles, about, n } = event;
      const what =
        settles === undefined ? {} : { settles, about, ...(n === undefined ? {} : { n }) };
      return { ...next, notes: [...next.notes, { text, by, at, ...what }] };
    }
    case 'weighed': {
      const { line, n, wetG } = event;
      const next = noted(current, event, line, { slice: 'weighed', before: current.weighed });
      return { ...next, weighed: [...next.weighed, { line, n, wetG, at }] };
    }
    case 'fluidMeasured': {
      const { kind, ml } = event;
      const next = noted(current, event, kind, { slice: 'fluids', before: current.fluids });
      return { ...next, fluids: [...next.fluids, { kind, ml, at }] };
    }
    case 'handedOver': {
      const { line, to, plan } = event;
      const n = staysOf(current, line);
      const before = current.handovers[line];
      const next = noted(current, event, line, { slice: 'handovers', key: line, before });
      return { ...next, handovers: { ...next.handovers, [line]: { line, n, to, plan, at } } };
    }
    case 'allergiesSaid': {
      const { patient } = current;
      const next = noted(current, event, '', { slice: 'patient', before: patient });
      return { ...next, patient: { ...patient, allergies: event.known } };
    }
    default:
      return unreachable(event);
  }
}

const noted = (current: Case, event: Stamped<NotesEvent>, subject: string, undo: Undo): Case =>
  applied(current, event, { type: event.type, subject, canTakeBack: true, undo: [undo] });
