import { rowOf } from '../ledger.ts';
import type { Case, ScannedPacks } from '../state.ts';

/**
 * What the scanned pack of a line's pieces said, where there is no doubt which pack they came from: each piece that was
 * ever opened, of the line and of those that turn into it, came from scanned packs that all said the same.
 *
 * Otherwise undefined: two lots are on the table, and nobody has said which one was used.
 * Rules: L15.
 */
export function lotOf(current: Case, line: string): string | undefined {
  if (current.scanned.length === 0) return undefined;
  const ids = sourcesOf(current, line);
  const packs = packsOf(current, line);
  const pieces = packs.reduce((sum, { n }) => sum + n, 0);
  const opened = ids.reduce((sum, id) => sum - rowOf(current.ledger, id).supply, 0);
  const words = new Set(packs.flatMap((one) => one.words));
  const isKnown = packs.every((one) => isWhole(current, one)) && pieces === opened;
  return words.size === 1 && isKnown ? [...words][0] : undefined;
}

/** Every scanned pack that a piece of the line can have come from, in the order in which they were added. */
export function packsOf(current: Case, line: string): readonly ScannedPacks[] {
  const ids = sourcesOf(current, line);
  return current.scanned.filter((one) => ids.includes(one.line));
}

/** The line, and those whose pieces turn into it. */
const sourcesOf = (current: Case, line: string): readonly string[] =>
  [...current.lines.values()]
    .filter(
      ({ id, turns }) =>
        id === line || turns.some(({ gives }) => gives.some((given) => given.line === line)),
    )
    .map(({ id }) => id);

/** Whether each pack of an entry was scanned, so that none of its pieces came from another. */
function isWhole(current: Case, { line, n, words }: ScannedPacks): boolean {
  const size = current.lines.get(line)?.pack ?? 1;
  return words.length * size === n;
}
