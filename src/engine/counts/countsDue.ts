import { say, sayOf } from '#words/say.ts';
import { closuresOf } from '../applies.ts';
import type { Closure, MomentId } from '../sheet.ts';
import type { Case } from '../state.ts';

export const momentName = (current: Case, moment: MomentId): string =>
  current.sheet.moments.find((known) => known.id === moment)?.name ?? say`${sayOf(moment)} count`;

/** What is wrong with a count that is due: it was never done, or something came after it. */
export const dueWords = (current: Case, moment: MomentId): string =>
  `${momentName(current, moment)} ${current.counts.done[moment] ? say`out of date` : say`not done`}`;

/**
 * The counts that a gate waits for, given the closures up to it. Made closures no longer owe their own; but before
 * sign out that of the last must still stand.
 */
export function countsDue(
  current: Case,
  upTo: readonly Closure[],
  isSignOut: boolean,
): readonly MomentId[] {
  const moments = new Set<MomentId>();
  for (const closure of upTo) {
    const isMade = current.closures[closure.id]?.closedAt !== undefined;
    const isLastOfAll = isSignOut && closure === upTo.at(-1);
    if (isMade && !isLastOfAll) continue;
    const isDue = isMade ? isCountStale : isCountDue;
    if (isDue(current, closure.count)) moments.add(closure.count);
  }
  return [...moments];
}

/**
 * Whether the next closure that asks for this count needs it: it is missing or stale, or a closure that asked for it
 * was made since. A count with lines that differ was still done.
 *
 * Rules: C6, C12.
 * Source: NatSSIPs 2015 (a count before the closure of each cavity).
 */
export function isCountDue(current: Case, moment: MomentId): boolean {
  return isCountStale(current, moment) || isCountUsed(current, moment);
}

function isCountStale(current: Case, moment: MomentId): boolean {
  const done = current.counts.done[moment];
  if (!done) return true;
  return !done.waived && done.entry < current.agedEntry;
}

/** One count serves one closure: two cavities closed one after the other are two counts. */
function isCountUsed(current: Case, moment: MomentId): boolean {
  const done = current.counts.done[moment];
  if (!done || done.waived) return false;
  return closuresOf(current).some((closure) => {
    const made = current.closures[closure.id];
    return closure.count === moment && made?.closedAt !== undefined && made.entry > done.entry;
  });
}
