/** Without I, L, O and U, which are misread. Source: Douglas Crockford, "Base 32". */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/**
 * The short form of a hash for paper and for reading aloud: its first 40 bits, as two groups of four.
 *
 * Units: `head` is a SHA-256 in hex.
 */
export const chainCode = (head: string): string => codeOf(head, 2);

/** The first bits of a hash in hex, 20 for each group of four. */
export function codeOf(hash: string, groups: number): string {
  const bits = BigInt(`0x${hash.slice(0, 5 * groups)}`);
  const length = 4 * groups;
  const places = Array.from({ length }, (_, place) => BigInt(5 * (length - 1 - place)));
  const code = places.map((shift) => letters[Number((bits >> shift) & 31n)] ?? '');
  return Array.from({ length: groups }, (_, group) =>
    code.slice(4 * group, 4 * group + 4).join(''),
  ).join('-');
}
