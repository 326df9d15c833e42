import { unreachable } from '../assert.ts';
import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { isMeasure, isQuantity, isText } from '../quantities.ts';
import type { Case } from '../state.ts';
import type { NotesCommand, NotesEvent, WriteNote } from './events.ts';
import { removedOf } from './takenOut.ts';

/**
 * Answers notes, weights, fluids, handovers and allergies.
 *
 * Units: pieces, grams, millilitres.
 * Refuses, first match wins: malformed, unknown-line, unknown-specimen, not-a-quantity, not-a-number, reason-missing,
 * name-missing, not-enough.
 * Rules: X9, K10, K14.
 */
export function decideNotes(
  current: Case,
  command: NotesCommand,
  context: Context,
): Decision<NotesEvent> {
  switch (command.type) {
    case 'note':
      return decideNote(current, command, context);
    case 'weigh': {
      const { line, n, wetG } = command;
      if (!current.lines.has(line)) return refuse('unknown-line', line);
      if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
      if (!isMeasure(wetG)) return refuse('not-a-number', 'wetG');
      return accept<NotesEvent>({ type: 'weighed', line, n, wetG });
    }
    case 'fluid': {
      const { kind, ml } = command;
      if (kind !== 'suction' && kind !== 'irrigation' && kind !== 'other')
        return refuse('malformed', 'kind');
      if (!isMeasure(ml)) return refuse('not-a-number', 'ml');
      return accept<NotesEvent>({ type: 'fluidMeasured', kind, ml });
    }
    case 'handover': {
      const { line, to, plan } = command;
      const known = current.lines.get(line);
      if (!known) return refuse('unknown-line', line);
      if (!isText(plan)) return refuse('reason-missing', known.name);
      if (!isText(to)) return refuse('name-missing', known.name);
      if ((current.left[line] ?? []).length === 0) return refuse('not-enough', known.name);
      return accept<NotesEvent>({ type: 'handedOver', line, to, plan });
    }
    case 'allergies': {
      const { known } = command;
      if (!Array.isArray(known) || !known.every(isText)) return refuse('malformed', 'known');
      return accept<NotesEvent>({ type: 'allergiesSaid', known });
    }
    default:
      return unreachable(command);
  }
}

function decideNote(current: Case, command: WriteNote, { by }: Context): Decision<NotesEvent> {
  const { text, settles, about = '', n } = command;
  if (!isText(text)) return refuse('reason-missing', by);
  switch (settles) {
    case undefined:
      return accept<NotesEvent>({ type: 'noteWritten', text });
    case 'result-seen':
    case 'result-not-seen':
      if (!current.specimens[about]) return refuse('unknown-specimen', about);
      return accept<NotesEvent>({ type: 'noteWritten', text, settles, about });
    case 'taken-out':
    case 'not-taken-out': {
      const line = current.lines.get(about);
      if (!line) return refuse('unknown-line', about);
      if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
      if (settles === 'not-taken-out' && n > removedOf(current, line))
        return refuse('not-enough', line.name);
      return accept<NotesEvent>({ type: 'noteWritten', text, settles, about, n });
    }
    default:
      return refuse('malformed', 'settles');
  }
}
