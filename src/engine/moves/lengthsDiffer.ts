import type { Case, FragmentSet } from '../state.ts';

/**
 * The fragments of a line whose given lengths do not add up to the whole piece, unless that was accepted.
 *
 * Rules: L11.
 */
export function lengthsDiffer(current: Case, fragmentLine: string): FragmentSet | undefined {
  return current.fragments.find(
    (set) => set.line === fragmentLine && set.explained === undefined && !addsUp(set),
  );
}

function addsUp(set: FragmentSet): boolean {
  if (set.wholeMm === undefined || set.lengths === undefined) return true;
  const sum = set.lengths.reduce((total, mm) => total + mm, 0);
  return Math.abs(sum - set.wholeMm) < 0.05;
}
