import { applied, touchesInside } from '../applied.ts';
import type { Stamped } from '../decision.ts';
import { reversed } from '../ledger.ts';
import type { Case, Log, Logged, Undo } from '../state.ts';
import type { Corrected } from './events.ts';

/** Undoes an entry: its postings reversed, what it changed put back, its marks in the log. */
export function evolveCorrected(current: Case, event: Stamped<Corrected>): Case {
  const parts = partsOf(current.log, event.corrects);
  const postings = reversed(parts.flatMap((part) => part.postings));
  const next = applied(current, event, {
    type: event.type,
    subject: event.subject,
    postings,
    ages: parts.some((part) => part.ages),
    asksLook: parts.some((part) => part.asksLook || touchesInside(part.postings)),
  });
  const restored = parts.flatMap((part) => part.undo).reduce(putBack, next);
  return { ...restored, log: marked(restored.log, event.corrects) };
}

/** What one change was before it, put back. */
export function putBack(current: Case, undo: Undo): Case {
  if (!('key' in undo)) return { ...current, [undo.slice]: undo.before };
  // Answers of a last look that were asked again since are not brought back.
  if (undo.slice === 'looks' && current.looks[undo.key] === undefined) return current;
  const { [undo.key]: _, ...others } = current[undo.slice];
  const slice = undo.before === undefined ? others : { ...others, [undo.key]: undo.before };
  return { ...current, [undo.slice]: slice };
}

/** It is not taken back twice, and no other entry is asked whether it depends on it. */
const takenBack = { corrected: true, postings: [], undo: [] } as const;

/** What an entry did, newest first. */
export function partsOf(log: Log | undefined, entry: number): readonly Logged[] {
  const parts: Logged[] = [];
  for (let at_ = log; at_ && at_.entry >= entry; at_ = at_.tail)
    if (at_.entry === entry) parts.push(at_);
  return parts;
}

/**
 * The log with this entry marked as taken back, so that nothing more is known of what it did; what lies behind it is
 * shared.
 */
function marked(log: Log | undefined, entry: number): Log | undefined {
  const newer: Logged[] = [];
  let rest = log;
  for (; rest && rest.entry >= entry; rest = rest.tail) newer.push(rest);
  return newer.reduceRight<Log | undefined>(
    (tail, head) => ({ ...head, ...(head.entry === entry ? takenBack : {}), tail }),
    rest,
  );
}
