/**
 * The workload of the engine's bench: 150 lines over 6 places and a seeded stream of moves, none of which takes
 * more than lies there. Every contestant must end with the same 900 numbers.
 */
export const lineCount = 150;
export const placeNames = [
  'table',
  'patient/one',
  'patient/two',
  'patient/three',
  'patient/four',
  'off',
] as const;
export type PlaceName = (typeof placeNames)[number];
export const placeCount = placeNames.length;

export type Moves = {
  readonly count: number;
  readonly line: Uint8Array;
  readonly from: Uint8Array;
  readonly to: Uint8Array;
  readonly n: Uint8Array;
  /** The balances at the end, line by line. */
  readonly end: Int32Array;
};

/** Pieces of a line on the table at the start. */
export const stockOf = (line: number): number =>
  line % 5 === 0 ? 10 : line % 3 === 0 ? 5 : 1 + (line % 4);

export const lineIds: readonly string[] = Array.from(
  { length: lineCount },
  (_, line) => `line-${line}`,
);

/** xorshift32: the same moves from the same seed on every machine. */
function randomFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

export function startingBalances(): Int32Array {
  const balances = new Int32Array(lineCount * placeCount);
  for (let line = 0; line < lineCount; line++) balances[line * placeCount] = stockOf(line);
  return balances;
}

export function movesOf(count: number, seed = 12_345): Moves {
  const random = randomFrom(seed);
  const balances = startingBalances();
  const columns = () => new Uint8Array(count);
  const moves = { count, line: columns(), from: columns(), to: columns(), n: columns() };
  for (let i = 0; i < count; ) {
    const line = random(lineCount);
    const from = random(placeCount);
    const to = random(placeCount);
    const there = balances[line * placeCount + from] ?? 0;
    if (from === to || there === 0) continue;
    const n = 1 + random(Math.min(5, there));
    balances[line * placeCount + from] = there - n;
    balances[line * placeCount + to] = (balances[line * placeCount + to] ?? 0) + n;
    moves.line[i] = line;
    moves.from[i] = from;
    moves.to[i] = to;
    moves.n[i] = n;
    i++;
  }
  return { ...moves, end: balances };
}

/** One move with names, as a program would get it. */
export type NamedMove = {
  readonly line: string;
  readonly from: PlaceName;
  readonly to: PlaceName;
  readonly n: number;
};

export function namedMovesOf(moves: Moves): readonly NamedMove[] {
  return Array.from({ length: moves.count }, (_, i) => ({
    line: lineIds[moves.line[i] ?? 0] ?? '',
    from: placeNames[moves.from[i] ?? 0] ?? 'table',
    to: placeNames[moves.to[i] ?? 0] ?? 'table',
    n: moves.n[i] ?? 0,
  }));
}
