/** Chance for the study: one seeded generator and the few distributions that its priors need. */

export type Chance = () => number;

/** mulberry32. Units: from 0 up to, not including, 1. */
export function chanceFrom(seed: number): Chance {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Box and Muller. */
export const normal = (chance: Chance): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());

/** Marsaglia and Tsang, for shapes of 1 and more. */
function gamma(chance: Chance, shape: number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(chance);
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    if (Math.log(1 - chance()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

export function beta(chance: Chance, a: number, b: number): number {
  const one = gamma(chance, a);
  return one / (one + gamma(chance, b));
}

/** A log-normal with this median, nine tenths of it within this factor of the median. Never above 1. */
export const around = (chance: Chance, median: number, factor: number): number =>
  Math.min(1, median * Math.exp((normal(chance) * Math.log(factor)) / 1.6449));

export function quantile(sorted: readonly number[], part: number): number {
  const at = part * (sorted.length - 1);
  const low = sorted[Math.floor(at)] ?? Number.NaN;
  const high = sorted[Math.ceil(at)] ?? Number.NaN;
  return low + (high - low) * (at - Math.floor(at));
}

/**
 * How far a count of so many objects is out, when each may be counted twice or skipped: the chances of -3 to 3.
 * What lies beyond is added to the ends.
 */
export function slipsOf(objects: number, doubled: number, skipped: number): readonly number[] {
  const reach = 3;
  let chances = new Array<number>(2 * reach + 1).fill(0);
  chances[reach] = 1;
  for (let i = 0; i < objects; i++) {
    const next = new Array<number>(2 * reach + 1).fill(0);
    for (const [at, chance] of chances.entries()) {
      const up = Math.min(2 * reach, at + 1);
      const down = Math.max(0, at - 1);
      next[up] = (next[up] ?? 0) + chance * doubled;
      next[down] = (next[down] ?? 0) + chance * skipped;
      next[at] = (next[at] ?? 0) + chance * (1 - doubled - skipped);
    }
    chances = next;
  }
  return chances;
}

/** Draws one of the slips. */
export function slip(chance: Chance, chances: readonly number[]): number {
  let left = chance();
  for (const [at, one] of chances.entries()) {
    left -= one;
    if (left < 0) return at - 3;
  }
  return 3;
}
