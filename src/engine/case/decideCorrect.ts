import { say } from '#words/say.ts';
import { closuresOf } from '../applies.ts';
import { holdsOf } from '../closures/holdsOf.ts';
import { accept, type Decision, refuse } from '../decision.ts';
import { at, type Posting, post, reversed } from '../ledger.ts';
import { isContra } from '../places.ts';
import type { Case, Log, Logged, Undo } from '../state.ts';
import { partsOf, putBack } from './correct.ts';
import type { Correct, Corrected } from './events.ts';

/**
 * Takes back an entry by another one that undoes it; nothing is erased.
 *
 * Refuses, first match wins: unknown-entry, nothing-to-correct, not-taken-back, already-corrected,
 * entry-depended-on (the detail names the later entry).
 * Rules: L12.
 */
export function decideCorrect(current: Case, command: Correct): Decision<Corrected> {
  const wanted = command.entry ?? lastEntry(current.log);
  if (wanted === undefined) return refuse('nothing-to-correct');
  const parts = partsOf(current.log, wanted);
  const first = parts.at(-1);
  if (!first) return refuse('unknown-entry', String(wanted));
  if (parts.some((part) => !part.canTakeBack)) return refuse('not-taken-back', first.type);
  if (first.corrected) return refuse('already-corrected', String(wanted));
  const later = dependent(current, wanted, parts);
  if (later !== undefined) return refuse('entry-depended-on', say`Entry ${later}`);
  const { type: what, subject } = first;
  return accept<Corrected>({ type: 'corrected', corrects: wanted, what, subject });
}

/** The latest entry that is not itself a correction and not yet corrected. */
function lastEntry(log: Log | undefined): number | undefined {
  for (let at_ = log; at_; at_ = at_.tail)
    if (!at_.corrected && at_.type !== 'corrected') return at_.entry;
  return undefined;
}

/** The number of a later entry that cannot stand without this one. */
function dependent(current: Case, entry: number, parts: readonly Logged[]): number | undefined {
  const touched = new Set(parts.flatMap((part) => part.undo.map(touchOf)));
  const later = laterThan(current.log, entry);
  for (const logged of later)
    if (logged.undo.some((undo) => touched.has(touchOf(undo)))) return logged.entry;
  return belowZero(current, parts, later) ?? closureMade(current, entry, parts);
}

function laterThan(log: Log | undefined, entry: number): readonly Logged[] {
  const later: Logged[] = [];
  for (let at_ = log; at_ && at_.entry > entry; at_ = at_.tail)
    if (!at_.corrected && at_.type !== 'corrected') later.unshift(at_);
  return later;
}

const touchOf = (undo: Undo): string => ('key' in undo ? `${undo.slice}/${undo.key}` : undo.slice);

/** Walks the later entries as if this one had not been: the first that would go below zero depends on it. */
function belowZero(
  current: Case,
  parts: readonly Logged[],
  later: readonly Logged[],
): number | undefined {
  const balances = new Map<string, number>();
  const shift = ({ line, place, by }: Posting): number => {
    const key = `${line} ${place}`;
    const balance = (balances.get(key) ?? at(current.ledger, line, place)) + by;
    balances.set(key, balance);
    return balance;
  };
  for (const logged of [...later, ...parts])
    for (const posting of reversed(logged.postings)) shift(posting);
  for (const logged of later)
    for (const posting of logged.postings)
      if (shift(posting) < 0 && !isContra(posting.place)) return logged.entry;
  return undefined;
}

/** The entry that made a closure which would have been held without this one. It is reopened first. */
function closureMade(current: Case, entry: number, parts: readonly Logged[]): number | undefined {
  const postings = parts.flatMap((part) => reversed(part.postings));
  const posted = { ...current, ledger: post(current.ledger, postings) };
  const undone = parts.flatMap((part) => part.undo).reduce(putBack, posted);
  for (const { id } of closuresOf(current)) {
    const madeAt = current.closures[id]?.closedAt && madeIn(current.log, id);
    if (!madeAt || madeAt < entry) continue;
    const known = new Set(openHolds(current, id));
    if (openHolds(undone, id).some((hold) => !known.has(hold))) return madeAt;
  }
  return undefined;
}

/** What would hold a closure if it was not made yet. */
function openHolds(current: Case, closure: string): readonly string[] {
  const { [closure]: _, ...closures } = current.closures;
  return holdsOf({ ...current, closures }, closure).map(({ code, about }) => `${code} ${about}`);
}

function madeIn(log: Log | undefined, closure: string): number | undefined {
  for (let at_ = log; at_; at_ = at_.tail)
    if (at_.type === 'closed' && at_.subject === closure) return at_.entry;
  return undefined;
}
