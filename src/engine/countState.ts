/** What a case keeps of its counts. */
import type { MomentId, Role } from './sheet.ts';

/** Seen at a count: `field` on the table and in use in sight, `off` counted off the field. Whole pieces. */
export type Found = {
  readonly field: number;
  readonly off: number;
  readonly packs?: readonly number[];
};

export type RunningCount = {
  readonly moment: MomentId;
  readonly scrub: string;
  readonly circulator: string;
  readonly lines: readonly string[];
  readonly entered: Entered | undefined;
  readonly entry: number;
  readonly startedAt: string;
};

/** What was seen of a line; newest first, so that an entry copies none of those before it. */
export type Entered = {
  readonly line: string;
  readonly seen: Found;
  readonly before: Entered | undefined;
};

export type BrokenCount = {
  readonly moment: MomentId;
  readonly reason: string;
  readonly at: string;
  /** What stands of it, where the policy lets only the interrupted class start again. */
  readonly kept?: KeptCount;
};
export type KeptCount = {
  readonly entry: number;
  readonly scrub: string;
  readonly circulator: string;
  readonly found: Readonly<Record<string, Found>>;
};

export type DoneCount = {
  readonly entry: number;
  readonly at: string;
  readonly by: readonly string[];
  readonly waived: boolean;
  readonly differing: readonly string[];
  readonly lines: number;
};

export type Counts = {
  readonly first: 'open' | 'agreed' | 'waived';
  readonly running: RunningCount | undefined;
  /** The last count that was broken off, and why; gone when a count begins. */
  readonly broken: BrokenCount | undefined;
  readonly done: Readonly<Partial<Record<MomentId, DoneCount>>>;
  /** Every count that was agreed or waived, in order. */
  readonly history: readonly (DoneCount & { readonly moment: MomentId })[];
  /** Lines opened by a change of variant and not counted in, with the entry that opened them. */
  readonly uncounted: Readonly<Record<string, number>>;
  readonly reliefDue: readonly Role[];
  readonly reliefs: readonly {
    readonly role: Role;
    readonly from: string;
    readonly to: string;
    readonly at: string;
    readonly short: boolean;
  }[];
  readonly isLate: boolean;
  readonly amendments: readonly {
    readonly line: string;
    readonly n: number;
    readonly reason: string;
    readonly by: readonly string[];
    readonly at: string;
  }[];
  readonly findings: readonly {
    readonly line: string;
    readonly listed: number;
    readonly seen: number;
  }[];
  readonly setAside: readonly {
    readonly line: string;
    readonly pieces: number;
    readonly at: string;
  }[];
  readonly waivers: readonly {
    readonly entry: number;
    readonly moment: MomentId;
    readonly reason: string;
    readonly by: readonly string[];
    readonly at: string;
  }[];
};
