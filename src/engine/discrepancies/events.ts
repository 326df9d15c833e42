import type { Posting } from '../ledger.ts';
import type { Place } from '../places.ts';
import type { DiscrepancyStep } from '../state.ts';

/**
 * A step of a discrepancy is done, or carries a reason why not (`skip`). `found` says where the piece was
 * (`from`, where the record has it in more than one place) and where it is now (`place`).
 */
export type StepDiscrepancy = {
  readonly type: 'discrepancy';
  readonly line: string;
  readonly step: DiscrepancyStep | 'found';
  readonly by?: string;
  readonly skip?: string;
  readonly n?: number;
  readonly from?: string;
  readonly place?: string;
  /** For the step `xray`: see `xray`. */
  readonly readBy?: string;
  readonly wholeField?: boolean;
  readonly result?: 'nothing-seen' | 'seen';
};
export type Declare = {
  readonly type: 'declare';
  readonly line: string;
  readonly n: number;
  readonly from?: string;
  readonly reason: string;
  readonly by?: readonly string[];
};
export type Amend = {
  readonly type: 'amend';
  readonly line: string;
  readonly n: number;
  readonly reason: string;
  readonly by?: readonly string[];
};
/** A film was read by a named person. It never changes the ledger. */
export type Xray = {
  readonly type: 'xray';
  readonly line?: string;
  readonly wholeField: boolean;
  readonly result: 'nothing-seen' | 'seen';
  readonly readBy: string;
};
/** An unstable patient leaves before the film; it stays owed. */
export type DeferXray = {
  readonly type: 'deferXray';
  readonly reason: string;
  readonly by?: readonly string[];
};

export type DiscrepanciesCommand = StepDiscrepancy | Declare | Amend | Xray | DeferXray;

export type Stepped = {
  readonly type: 'discrepancyStepped';
  readonly line: string;
  readonly step: DiscrepancyStep;
  readonly doneBy: string;
  readonly skipped?: string;
};
export type FoundPiece = {
  readonly type: 'found';
  readonly line: string;
  readonly n: number;
  readonly from: Place;
  readonly place: Place;
  readonly postings: readonly Posting[];
};
export type Declared = {
  readonly type: 'declared';
  readonly line: string;
  readonly n: number;
  readonly from: Place;
  readonly reason: string;
  readonly agreedBy: readonly string[];
  readonly postings: readonly Posting[];
};
export type Amended = {
  readonly type: 'amended';
  readonly line: string;
  readonly n: number;
  readonly reason: string;
  readonly agreedBy: readonly string[];
  readonly postings: readonly Posting[];
};
export type XrayRead = {
  readonly type: 'xrayRead';
  readonly line?: string;
  readonly wholeField: boolean;
  readonly result: 'nothing-seen' | 'seen';
  readonly readBy: string;
};
export type XrayDeferred = {
  readonly type: 'xrayDeferred';
  readonly reason: string;
  readonly agreedBy: readonly string[];
};

export type DiscrepanciesEvent =
  | Stepped
  | FoundPiece
  | Declared
  | Amended
  | XrayRead
  | XrayDeferred;
