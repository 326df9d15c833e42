import { closuresOf, signOut } from '../applies.ts';
import type { Case } from '../state.ts';
import { coveredClasses } from './linesOf.ts';

/**
 * The gate that a line that differs holds first, with every later one: the first closure not made whose count
 * covers the line, else sign out.
 *
 * Whichever count found it: a swab that is missed at skin may lie in the abdomen that is still open.
 * Rules: X2.
 */
export function gateOf(current: Case, line: string): string {
  const class_ = current.lines.get(line)?.class;
  const first = closuresOf(current).find(
    (closure) =>
      !current.closures[closure.id]?.closedAt &&
      class_ !== undefined &&
      coveredClasses(current, closure.count).includes(class_),
  );
  return first?.id ?? signOut;
}
