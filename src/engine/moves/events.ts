import type { Posting } from '../ledger.ts';
import type { Place } from '../places.ts';
import type { CarriedFrom, Line } from '../sheet.ts';
import type { LeftPieces } from '../state.ts';

/**
 * Something is opened onto the field. `packs` says what each pack held; `by` who saw it, two people; `scanned` what
 * the codes of the packs said, one text a pack: lot, serial number, expiry, and the code itself.
 */
export type Add = {
  readonly type: 'add';
  readonly line: string;
  readonly n?: number;
  readonly packs?: readonly number[];
  readonly by?: readonly string[];
  readonly scanned?: readonly string[];
};
export type Move = {
  readonly type: 'move';
  readonly line: string;
  readonly from: string;
  readonly to: string;
  readonly n: number;
  /** Who it is left with, for `away`. */
  readonly with?: string;
  readonly reason?: string;
  readonly where?: string;
  readonly lot?: string;
};
/** Units: `into` pieces; `lengthCm` of each in centimetres. */
export type TurnPiece = {
  readonly type: 'turn';
  readonly line: string;
  readonly turn: string;
  readonly at: string;
  readonly n: number;
  readonly into?: number;
  readonly lengthCm?: number;
};
/** Units: `lengths` in millimetres, one for each fragment. */
export type Break = {
  readonly type: 'break';
  readonly line: string;
  readonly at: string;
  readonly into: number;
  readonly lengths?: readonly number[];
};
export type CarryIn = {
  readonly type: 'carriedIn';
  readonly line: string;
  readonly n: number;
  readonly site?: string;
  readonly from: CarriedFrom;
};
/** Says why something stays. A line that may not stay needs the surgeon and one other. */
export type Explain = {
  readonly type: 'explain';
  readonly line: string;
  readonly n?: number;
  readonly site?: string;
  readonly reason?: string;
  readonly where?: string;
  readonly lot?: string;
  readonly by?: readonly string[];
};
/** The surgeon says that a search showed none of what was thought to be inside. */
export type SearchedNone = {
  readonly type: 'searchedNone';
  readonly line: string;
  readonly n: number;
  readonly site?: string;
  readonly reason: string;
  readonly by?: string;
};

export type MovesCommand = Add | Move | TurnPiece | Break | CarryIn | Explain | SearchedNone;

export type Added = {
  readonly type: 'added';
  readonly line: string;
  readonly n: number;
  readonly setAside: readonly number[];
  readonly seenBy: readonly string[];
  readonly postings: readonly Posting[];
  /** What the codes of the packs said that were scanned, one text a pack. */
  readonly scanned?: readonly string[];
};
export type Moved = {
  readonly type: 'moved';
  readonly line: string;
  readonly from: Place;
  readonly to: Place;
  readonly n: number;
  readonly postings: readonly Posting[];
  readonly inUse: boolean;
  readonly with?: string;
  readonly left?: LeftPieces;
};
export type Turned = {
  readonly type: 'turned';
  readonly line: string;
  readonly turn: string;
  readonly name: string;
  readonly place: Place;
  readonly n: number;
  readonly postings: readonly Posting[];
  readonly into?: number;
  readonly lengthCm?: number;
  readonly left: Readonly<Record<string, LeftPieces>>;
};
export type Broken = {
  readonly type: 'broken';
  readonly line: string;
  readonly fragment: Line;
  readonly place: Place;
  readonly into: number;
  readonly postings: readonly Posting[];
  readonly lengths?: readonly number[];
};
export type CarriedIn = {
  readonly type: 'carriedIn';
  readonly line: string;
  readonly n: number;
  readonly site: string;
  readonly from: CarriedFrom;
  readonly postings: readonly Posting[];
};
export type Explained = {
  readonly type: 'explained';
  readonly line: string;
  readonly left: readonly LeftPieces[];
  readonly postings: readonly Posting[];
  /** Fragments whose lengths do not add up, accepted with this reason. */
  readonly lengths?: string;
};
export type NoneFound = {
  readonly type: 'noneFound';
  readonly line: string;
  readonly n: number;
  readonly reason: string;
  readonly surgeon: string;
  readonly postings: readonly Posting[];
};

export type MovesEvent = Added | Moved | Turned | Broken | CarriedIn | Explained | NoneFound;
