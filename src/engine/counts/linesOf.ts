import { listedOf } from '../applies.ts';
import { rowOf } from '../ledger.ts';
import { type LineClass, lineClasses, type MomentId } from '../sheet.ts';
import type { Case } from '../state.ts';

/**
 * The lines that a count goes through: swabs, sharps, small items, instruments, each in the order of the sheet.
 *
 * Rules: C2.
 * Source: IFPN guideline 1002 (order of a count).
 */
export function linesOf(current: Case, moment: MomentId): readonly string[] {
  const covered = coveredClasses(current, moment);
  const asked: string[] = [];
  for (const class_ of lineClasses) {
    if (!covered.includes(class_)) continue;
    for (const line of current.lines.values())
      if (line.class === class_ && line.counted && isAskedAt(current, moment, line.id))
        asked.push(line.id);
  }
  return asked;
}

/** What a count of this moment covers. */
export function coveredClasses(current: Case, moment: MomentId): readonly LineClass[] {
  return current.sheet.moments.find((known) => known.id === moment)?.classes ?? lineClasses;
}

function isAskedAt(current: Case, moment: MomentId, line: string): boolean {
  if (moment === 'added') return current.counts.uncounted[line] !== undefined;
  const known = current.lines.get(line);
  if (moment === 'first') return known !== undefined && listedOf(current, known) > 0;
  const row = rowOf(current.ledger, line);
  return row.supply !== 0 || row.changed !== 0;
}

/** First, added, relief and extra counts are possible on every sheet; the others are those that it names. */
export function hasMoment(current: Case, moment: string): boolean {
  const always = ['first', 'added', 'relief', 'extra'];
  return always.includes(moment) || current.sheet.moments.some((known) => known.id === moment);
}
