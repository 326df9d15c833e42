/** What a seed means: how many windows, what goes wrong when, and what else happens. */
import { type Chance, chanceFrom } from '../studyChance.ts';
import {
  type DatabaseMishap,
  databaseMishaps,
  type FileMishap,
  fileMishaps,
  type MishapAt,
} from './mishaps.ts';

/** Calls `from` to `from + length - 1` go wrong. */
export type Spell<M> = { readonly from: number; readonly length: number; readonly mishap: M };

export type Plan = {
  readonly seed: number;
  readonly windows: number;
  readonly steps: number;
  readonly database: readonly Spell<DatabaseMishap>[];
  readonly files: readonly Spell<FileMishap>[];
  /** How likely a step is something else than a tap. */
  readonly upheaval: number;
};

const pick = <T>(chance: Chance, list: readonly T[]): T | undefined =>
  list[Math.floor(chance() * list.length)];

function spells<M>(chance: Chance, mishaps: readonly M[], calls: number): readonly Spell<M>[] {
  const many = Math.floor(chance() * 4);
  return Array.from({ length: many }, () => ({
    from: 1 + Math.floor(chance() * calls),
    length: pick(chance, [1, 1, 1, 2, 3, 5, 12, 60]) ?? 1,
    mishap: pick(chance, mishaps),
  })).flatMap(({ mishap, ...spell }) => (mishap === undefined ? [] : [{ ...spell, mishap }]));
}

export function planOf(seed: number): Plan {
  const chance = chanceFrom(seed);
  return {
    seed,
    windows: pick(chance, [1, 1, 1, 2, 2, 3, 4]) ?? 1,
    steps: 12 + Math.floor(chance() * 16),
    upheaval: pick(chance, [0, 0.1, 0.25]) ?? 0,
    database: spells(chance, databaseMishaps, 60),
    files: spells(chance, fileMishaps, 120),
  };
}

export const mishapIn =
  <M>(list: readonly Spell<M>[], isQuiet: () => boolean): MishapAt<M> =>
  (call) =>
    isQuiet()
      ? undefined
      : list.find(({ from, length }) => call >= from && call < from + length)?.mishap;
