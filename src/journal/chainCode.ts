/** Without I, L, O and U, which are misread. Source: Douglas Crockford, "Base 32". */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/**
 * The short form of a hash for paper and for reading aloud: its first 40 bits, as two groups of four.
 *
 * Units: `head` is a SHA-256 in hex.
 */
export function chainCode(head: string): string {
  const bits = BigInt(`0x${head.slice(0, 10)}`);
  const places = Array.from({ length: 8 }, (_, place) => BigInt(35 - 5 * place));
  const code = places.map((shift) => letters[Number((bits >> shift) & 31n)] ?? '').join('');
  return `${code.slice(0, 4)}-${code.slice(4)}`;
}
