import type { Patient, Team } from '#engine/state.ts';
import type { Asked } from './asked.ts';
import type { Path } from './problems.ts';

/** A scripted case with expectations, as parsed: every step typed, nothing looked up yet. */
export type Drill = {
  readonly title: string;
  /** The name of a sheet, or a whole one as plain data. */
  readonly sheet: string | Readonly<Record<string, unknown>>;
  readonly patient: Patient;
  readonly team: Team;
  readonly variants: readonly string[];
  readonly start: string;
  /** The code with which opening must be refused. */
  readonly refused: string | undefined;
  readonly steps: readonly DrillStep[];
};

export type DrillStep = {
  readonly path: Path;
  /** The word of its command, for a sentence; `expect` where there is none. */
  readonly word: string;
  readonly asked: Asked | undefined;
  readonly refused: string | undefined;
  readonly warned: readonly string[];
  readonly id: string | undefined;
  readonly at: string | undefined;
  readonly actor: string | undefined;
  readonly expect: Expectation | undefined;
};

type Numbers = Readonly<Record<string, number>>;
type ByKey<Value> = Readonly<Record<string, Value>>;

export type Expectation = {
  readonly balance?: ByKey<Numbers>;
  readonly inside?: ByKey<Numbers>;
  readonly introduced?: Numbers;
  readonly difference?: Numbers;
  readonly closure?: ByKey<string>;
  readonly holds?: ByKey<readonly string[]>;
  readonly verdict?: string;
  readonly loss?: Numbers;
  readonly specimen?: ByKey<string>;
  readonly checkpoint?: ByKey<string>;
  readonly entries?: number;
};
