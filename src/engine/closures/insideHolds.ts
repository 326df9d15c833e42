import { signOut } from '../applies.ts';
import { rowOf } from '../ledger.ts';
import { lengthsDiffer } from '../moves/lengthsDiffer.ts';
import type { Closure } from '../sheet.ts';
import type { Case } from '../state.ts';
import type { Hold } from './holds.ts';

/**
 * Pieces inside the sites that a gate closes, beyond what it says may be in use; and fragments.
 *
 * A fragment inside is `fragment-open` and not also `piece-inside`.
 * Rules: X4, L11.
 */
export function insideHolds(
  current: Case,
  upTo: readonly Closure[],
  gate: string,
): readonly Hold[] {
  const sites =
    gate === signOut ? current.ledger.sites.map((_, index) => index) : sitesOf(current, upTo);
  const fragments = new Set(current.fragments.map((set) => set.line));
  const holds: Hold[] = [];
  for (const line of current.lines.values()) {
    const { inside } = rowOf(current.ledger, line.id);
    const site = sites.find(
      (index) => (inside[index] ?? 0) > 0 && !isInUseAt(current, upTo, gate, index, line.id),
    );
    const isFragment = fragments.has(line.id);
    if (site !== undefined) {
      const pieces = sites.reduce((sum, index) => sum + (inside[index] ?? 0), 0);
      const where = current.sheet.sites[site]?.name ?? '';
      holds.push({
        code: isFragment ? 'fragment-open' : 'piece-inside',
        about: line.id,
        title: `${line.name}: ${pieces} in the ${where.toLowerCase()}`,
        detail: line.stay.may === 'no' ? 'Take it out' : 'Take it out, or leave it on purpose',
        who: 'surgeon and scrub',
        screen: 'frame',
      });
    } else if (isFragment && lengthsDiffer(current, line.id)) {
      holds.push({
        code: 'fragment-open',
        about: line.id,
        title: `${line.name}s do not add up`,
        detail: 'Their lengths do not make the whole piece: search for the rest',
        who: 'surgeon and scrub',
        screen: 'frame',
      });
    }
  }
  return holds;
}

/** Still in use inside: for the closure of its site, and for every later one up to this gate. */
function isInUseAt(
  current: Case,
  upTo: readonly Closure[],
  gate: string,
  site: number,
  line: string,
): boolean {
  if (gate === signOut) return false;
  const id = current.ledger.sites[site] ?? '';
  const own = upTo.findIndex((closure) => closure.sites.includes(id));
  return own >= 0 && upTo.slice(own).every((closure) => closure.inUse.includes(line));
}

function sitesOf(current: Case, upTo: readonly Closure[]): readonly number[] {
  const named = new Set(upTo.flatMap((closure) => closure.sites));
  return current.ledger.sites.flatMap((site, index) => (named.has(site) ? [index] : []));
}
