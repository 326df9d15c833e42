import { closureOf } from '#engine/applies.ts';
import { stationOf } from '#engine/case/stationsOf.ts';
import { piecesInside } from '#engine/closures/verdictOf.ts';
import { type LineClass, lineClasses } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { nextGate } from '../gates.ts';

/** Pieces of one kind in the patient, with the lines they are of. */
export type InsideKind = {
  readonly kind: LineClass | 'in-use';
  readonly name: string;
  /** Pieces. */
  readonly n: number;
  readonly lines: string;
};

const kindNames = (): Readonly<
  Record<InsideKind['kind'], readonly [one: string, many: string]>
> => ({
  swab: [say`swab`, say`swabs`],
  sharp: [say`sharp`, say`sharps`],
  small: [say`small item`, say`small items`],
  instrument: [say`instrument`, say`instruments`],
  'in-use': [say`in use, out last`, say`in use, out last`],
});

/**
 * What is in the patient now, by kind, in the order in which it is counted. What the next closure lists as in use
 * (port parts) stands by itself, at the end: it is meant to be there.
 */
export function insideKinds(current: Case): readonly InsideKind[] {
  const inUse = closureOf(current, nextGate(current))?.inUse ?? [];
  const inside = piecesInside(current).map((piece) => ({
    ...piece,
    name: current.lines.get(piece.line)?.name ?? piece.line,
    kind: inUse.includes(piece.line) ? 'in-use' : current.lines.get(piece.line)?.class,
  }));
  return [...lineClasses, 'in-use' as const].flatMap((kind): readonly InsideKind[] => {
    const own = inside.filter((one) => one.kind === kind);
    const n = own.reduce((sum, one) => sum + one.n, 0);
    if (n === 0) return [];
    const lines = own.map((one) => `${one.n} ${one.name}`).join(', ');
    return [{ kind, name: kindNames()[kind][n === 1 ? 0 : 1], n, lines }];
  });
}

/**
 * What the people in the room are to know least of: a count runs, or a line is counted again. Its numbers are on
 * no screen until it is agreed.
 */
export const isBlindNow = (current: Case): boolean =>
  current.counts.running !== undefined ||
  Object.values(current.differing).some((open) => open.stage === 'recount');

/** Where the case is, in the words of the spine. */
export function phaseOf(current: Case): string {
  const { running } = current.counts;
  if (running) {
    const moment = current.sheet.moments.find((one) => one.id === running.moment);
    return moment?.name ?? say`Count`;
  }
  return stationOf(current)?.name ?? say`Finished`;
}
