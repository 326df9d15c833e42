import { applied, touchesInside } from '../applied.ts';
import { unreachable } from '../assert.ts';
import type { Stamped } from '../decision.ts';
import type { Case, Differing, Undo } from '../state.ts';
import type {
  Amended,
  Declared,
  DiscrepanciesEvent,
  FoundPiece,
  Stepped,
  XrayRead,
} from './events.ts';

/** Applies the steps of a discrepancy, its end by declaration, and films. */
export function evolveDiscrepancies(current: Case, event: Stamped<DiscrepanciesEvent>): Case {
  switch (event.type) {
    case 'discrepancyStepped':
      return evolveStepped(current, event);
    case 'found':
      return evolveFound(current, event);
    case 'declared':
      return evolveDeclared(current, event);
    case 'amended':
      return evolveAmended(current, event);
    case 'xrayRead':
      return evolveXray(current, event);
    case 'xrayDeferred': {
      const next = applied(current, event, { type: event.type, subject: '' });
      const { reason, at } = event;
      return { ...next, deferral: { reason, by: event.agreedBy, at } };
    }
    default:
      return unreachable(event);
  }
}

const undoOf = (current: Case, line: string): Undo => ({
  slice: 'differing',
  key: line,
  before: current.differing[line],
});

function withDiffering(current: Case, line: string, change: Partial<Differing>): Case {
  const open = current.differing[line];
  if (!open) return current;
  return { ...current, differing: { ...current.differing, [line]: { ...open, ...change } } };
}

function evolveStepped(current: Case, event: Stamped<Stepped>): Case {
  const next = applied(current, event, {
    type: event.type,
    subject: event.line,
    canTakeBack: true,
    undo: [undoOf(current, event.line)],
  });
  const { doneBy, at, skipped } = event;
  const done = { by: doneBy, at, ...(skipped === undefined ? {} : { skipped }) };
  const steps = { ...next.differing[event.line]?.steps, [event.step]: done };
  return withDiffering(next, event.line, { steps });
}

/** Ages only its own line: two recounts in a row must agree from here. */
function evolveFound(current: Case, event: Stamped<FoundPiece>): Case {
  const undo: Undo[] = [undoOf(current, event.line)];
  if (event.from === 'missing') undo.push({ slice: 'missing', before: current.missing });
  const next = applied(current, event, {
    type: event.type,
    subject: event.line,
    postings: event.postings,
    asksLook: touchesInside(event.postings),
    canTakeBack: true,
    undo,
  });
  const missing =
    event.from === 'missing' ? lessMissing(next.missing, event.line, event.n) : next.missing;
  return withDiffering({ ...next, missing }, event.line, { streak: 0 });
}

function lessMissing(missing: Case['missing'], line: string, n: number): Case['missing'] {
  let toGo = n;
  return missing.flatMap((mark) => {
    if (mark.line !== line || toGo === 0) return [mark];
    const gone = Math.min(toGo, mark.n);
    toGo -= gone;
    return mark.n > gone ? [{ ...mark, n: mark.n - gone }] : [];
  });
}

function evolveDeclared(current: Case, event: Stamped<Declared>): Case {
  const { line, n, reason, agreedBy, at } = event;
  const posted = applied(current, event, {
    type: event.type,
    subject: line,
    postings: event.postings,
    asksLook: touchesInside(event.postings),
    undo: [undoOf(current, line), { slice: 'missing', before: current.missing }],
  });
  const mark = { line, n, why: 'declared', reason, by: agreedBy, at } as const;
  const next = { ...posted, missing: [...posted.missing, mark] };
  const open = next.differing[line];
  if (!open) return next;
  const difference = open.difference + n;
  if (difference < 0)
    return withDiffering(next, line, { difference, expected: open.expected - n, streak: 0 });
  const { [line]: _, ...differing } = next.differing;
  const settled = [
    ...next.settled,
    { ...open, how: 'declared', settledAt: at, reason, by: agreedBy } as const,
  ];
  return { ...next, differing, settled };
}

function evolveAmended(current: Case, event: Stamped<Amended>): Case {
  const { line, n, reason, agreedBy, at } = event;
  const next = applied(current, event, {
    type: event.type,
    subject: line,
    postings: event.postings,
    undo: [undoOf(current, line)],
  });
  const amendments = [...next.counts.amendments, { line, n, reason, by: agreedBy, at }];
  const amended = (next.differing[line]?.amended ?? 0) + n;
  const agreed = { ...next, counts: { ...next.counts, amendments } };
  return withDiffering(agreed, line, { amended, streak: 0 });
}

function evolveXray(current: Case, event: Stamped<XrayRead>): Case {
  const { entry, line, wholeField, result, readBy, at } = event;
  const undo: Undo[] = [{ slice: 'xrays', before: current.xrays }];
  if (line !== undefined) undo.push(undoOf(current, line));
  const next = applied(current, event, {
    type: event.type,
    subject: line ?? '',
    canTakeBack: true,
    undo,
  });
  const film = { entry, wholeField, result, readBy, at, ...(line === undefined ? {} : { line }) };
  const read = { ...next, xrays: [...next.xrays, film] };
  const steps = line === undefined ? undefined : read.differing[line]?.steps;
  if (line === undefined || !steps || !wholeField) return read;
  return withDiffering(read, line, { steps: { ...steps, xray: { by: readBy, at } } });
}
