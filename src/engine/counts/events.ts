import type { Found } from '../countState.ts';
import type { Posting } from '../ledger.ts';
import type { MomentId, Role } from '../sheet.ts';

/** A count begins, made by these two people; whoever is in the roles where nobody is named. */
export type BeginCount = {
  readonly type: 'beginCount';
  readonly moment: MomentId;
  readonly scrub?: string;
  readonly circulator?: string;
};
/** What was seen of one line. Units: whole pieces, 0 to 999; `packs` the content of each pack (first count). */
export type Enter = {
  readonly type: 'enter';
  readonly line: string;
  readonly field?: number;
  readonly off?: number;
  readonly packs?: readonly number[];
  /** Other parts of its group that were said with it in one number: so many of each. */
  readonly together?: readonly string[];
};
export type Agree = { readonly type: 'agree'; readonly by?: readonly string[] };
export type Abandon = { readonly type: 'abandon'; readonly reason: string };
export type Recount = {
  readonly type: 'recount';
  readonly lines: Readonly<Record<string, { readonly field?: number; readonly off?: number }>>;
  readonly by?: readonly string[];
};
/** Somebody takes over a role. `short`: a short break, noted, without a count. */
export type Relief = {
  readonly type: 'relief';
  readonly role: Role;
  readonly to: string;
  readonly short?: boolean;
};
export type Waive = {
  readonly type: 'waive';
  readonly moment: MomentId;
  readonly reason: string;
  readonly by?: readonly string[];
};

export type CountsCommand = BeginCount | Enter | Agree | Abandon | Recount | Relief | Waive;

export type CountBegun = {
  readonly type: 'countBegun';
  readonly moment: MomentId;
  readonly scrub: string;
  readonly circulator: string;
  readonly lines: readonly string[];
  /** What is taken over from a count that was broken off, where the policy lets only a class start again. */
  readonly found?: Readonly<Record<string, Found>>;
};
export type Entered = {
  readonly type: 'entered';
  readonly line: string;
  readonly found: Found;
  /** It was said in one number with other parts of its group. */
  readonly together?: true;
};

/** One line of a finished count or recount. Units: whole pieces. */
export type Outcome = {
  readonly line: string;
  readonly found: Found;
  /** Table, in the patient and off of the ledger, when it was agreed. */
  readonly expected: number;
};
export type CountAgreed = {
  readonly type: 'countAgreed';
  readonly moment: MomentId;
  readonly agreedBy: readonly string[];
  readonly outcomes: readonly Outcome[];
  readonly postings: readonly Posting[];
  readonly findings: readonly {
    readonly line: string;
    readonly listed: number;
    readonly seen: number;
  }[];
  readonly setAside: readonly { readonly line: string; readonly pieces: number }[];
};
export type CountAbandoned = { readonly type: 'countAbandoned'; readonly reason: string };
export type Recounted = {
  readonly type: 'recounted';
  readonly agreedBy: readonly string[];
  readonly outcomes: readonly Outcome[];
  readonly postings: readonly Posting[];
};
export type Relieved = {
  readonly type: 'relieved';
  readonly role: Role;
  readonly from: string;
  readonly to: string;
  readonly short: boolean;
};
export type Waived = {
  readonly type: 'waived';
  readonly moment: MomentId;
  readonly reason: string;
  readonly agreedBy: readonly string[];
  readonly lines: number;
  readonly postings: readonly Posting[];
};

export type CountsEvent =
  | CountBegun
  | Entered
  | CountAgreed
  | CountAbandoned
  | Recounted
  | Relieved
  | Waived;
