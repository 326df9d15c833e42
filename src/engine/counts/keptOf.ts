import type { Found, KeptCount, RunningCount } from '../countState.ts';
import { samePerson } from '../people.ts';
import { lineClasses } from '../sheet.ts';
import type { Case, Log } from '../state.ts';
import type { CountBegun } from './events.ts';
import { foundIn } from './foundIn.ts';

/**
 * What stands of the running count if it is broken off now: the classes of which every line has a number. Undefined
 * where the policy lets the whole count start again.
 *
 * Rules: C13.
 * Source: AORN (only the class that was being counted starts again; from memory); IFPN 1002 (the whole count).
 */
export function keptOf(current: Case, running: RunningCount, entry: number): KeptCount | undefined {
  if (current.sheet.policy.interruptedCount !== 'class') return undefined;
  const seen = foundIn(running);
  const found: Record<string, Found> = {};
  for (const class_ of lineClasses) {
    const lines = running.lines.filter((line) => current.lines.get(line)?.class === class_);
    const isWhole = lines.every((line) => seen[line] !== undefined);
    for (const line of isWhole ? lines : []) {
      const one = seen[line];
      if (one) found[line] = one;
    }
  }
  const { scrub, circulator } = running;
  return { entry, scrub, circulator, found };
}

/** What a count takes over from the one that was broken off: the same two count on, and nothing has moved since. */
export function takenOver(
  current: Case,
  { moment, scrub, circulator }: Omit<CountBegun, 'type' | 'lines' | 'found'>,
): Readonly<Record<string, Found>> {
  const { broken } = current.counts;
  const kept = broken?.moment === moment ? broken.kept : undefined;
  if (!kept || current.agedEntry > kept.entry || hasMovedSince(current.log, kept.entry)) return {};
  const isSame = samePerson(kept.scrub, scrub) && samePerson(kept.circulator, circulator);
  return isSame ? kept.found : {};
}

function hasMovedSince(log: Log | undefined, entry: number): boolean {
  for (let rest = log; rest && rest.entry > entry; rest = rest.tail)
    if (rest.postings.length > 0) return true;
  return false;
}
