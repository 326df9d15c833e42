import type { CaseEvent } from '#engine/case/events.ts';
import type { MomentId } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import type { Script } from './script.ts';
import type { Change, World } from './world.ts';

/** A count that did not say what lay there. Units: whole pieces, field and off together. */
export type Miscount = {
  readonly entry: number;
  readonly moment: MomentId | 'recount';
  readonly line: string;
  readonly said: number;
  readonly lay: number;
};

/** An entry that says what was not so. */
export type Untrue = {
  readonly entry: number;
  readonly line: string;
  readonly what: 'moved' | 'found' | 'label' | 'readBack';
};

/**
 * How far a slip is. `waiting`: has not happened. `there`: has happened, and nobody knows. `seen`: found, or set
 * aside, or the label was destroyed. `over`: it can no longer happen.
 */
export type SlipState = 'waiting' | 'there' | 'seen' | 'over';

/** A practice as its entries have made it: the record, and beside it what is really so. */
export type Followed = {
  readonly script: Script;
  readonly current: Case | undefined;
  readonly world: World;
  /** Entries that stand, without those that were taken back. */
  readonly live: readonly CaseEvent[];
  readonly done: Readonly<Record<number, readonly Change[]>>;
  readonly slips: Readonly<Record<string, SlipState>>;
  readonly miscounts: readonly Miscount[];
  readonly untrue: readonly Untrue[];
  /** Closures that were made while something lay inside unknown, by slip. */
  readonly closedOver: Readonly<Record<string, string>>;
};
