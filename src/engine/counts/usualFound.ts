import { isInUse, listedOf } from '../applies.ts';
import type { Found } from '../countState.ts';
import { insideOf, rowOf } from '../ledger.ts';
import type { MomentId } from '../sheet.ts';
import type { Case } from '../state.ts';

/** What a true count would see: table and off, plus in-use lines inside. At the first count: the tray list. */
export function usualFound(current: Case, moment: MomentId | 'recount', line: string): Found {
  const known = current.lines.get(line);
  if (moment === 'first') return { field: known ? listedOf(current, known) : 0, off: 0 };
  const row = rowOf(current.ledger, line);
  const inSight = isInUse(current, line) ? insideOf(current.ledger, line) : 0;
  return { field: row.table + inSight, off: row.off };
}
