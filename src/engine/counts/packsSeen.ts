import type { Found } from '../countState.ts';
import type { Line } from '../sheet.ts';

/** What of a line seen at the first count enters, and the packs that are set aside whole. */
export type PacksSeen = { readonly sound: number; readonly setAside: readonly number[] };

/**
 * Sorts what was seen into sound packs and packs that do not hold their number.
 *
 * Where only a total was said, a remainder means one wrong pack: short when fewer were seen than listed,
 * over when more.
 * Rules: L4.
 */
export function packsSeen(line: Line, listed: number, found: Found): PacksSeen {
  const { pack } = line;
  if (pack === undefined) return { sound: found.field + found.off, setAside: [] };
  if (found.packs) {
    const setAside = found.packs.filter((pieces) => pieces !== pack);
    return { sound: (found.packs.length - setAside.length) * pack, setAside };
  }
  const seen = found.field + found.off;
  const over = seen % pack;
  if (over === 0) return { sound: seen, setAside: [] };
  if (seen < listed || seen < pack) return { sound: seen - over, setAside: [over] };
  return { sound: seen - over - pack, setAside: [over + pack] };
}
