/** The word that was probably meant: the nearest known one, if it is near enough. */
export function nearest(word: string, known: readonly string[]): string | undefined {
  if (word.length > 60) return undefined;
  const limit = Math.max(1, Math.floor(word.length / 3));
  let best: string | undefined;
  let least = limit + 1;
  for (const candidate of known) {
    if (Math.abs(candidate.length - word.length) >= least) continue;
    const away = distance(word.toLowerCase(), candidate.toLowerCase());
    if (away < least) [best, least] = [candidate, away];
  }
  return best;
}

/** Letters to change, add, drop or swap with their neighbour, to make one word of the other. */
function distance(from: string, to: string): number {
  let before: readonly number[] = [];
  let last: readonly number[] = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let row = 1; row <= from.length; row += 1) {
    const next = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const same = from[row - 1] === to[column - 1];
      const swapped =
        row > 1 &&
        column > 1 &&
        from[row - 1] === to[column - 2] &&
        from[row - 2] === to[column - 1];
      next.push(
        Math.min(
          (last[column] ?? 0) + 1,
          (next[column - 1] ?? 0) + 1,
          (last[column - 1] ?? 0) + (same ? 0 : 1),
          swapped ? (before[column - 2] ?? 0) + 1 : Number.POSITIVE_INFINITY,
        ),
      );
    }
    [before, last] = [last, next];
  }
  return last[to.length] ?? 0;
}
