import type { Line } from '../sheet.ts';
import type { LeftPieces } from '../state.ts';

/** Whether what stays of a line may stay and everything was said that its rule asks. Rules: L9. */
export function isExplained(line: Line, left: LeftPieces): boolean {
  switch (line.stay.may) {
    case 'yes':
      return true;
    case 'reason':
      return (
        left.decidedBy !== undefined || line.stay.needs.every((need) => left[need] !== undefined)
      );
    case 'no':
      return left.decidedBy !== undefined && left.reason !== undefined;
  }
}
