import type { Command } from '#engine/case/events.ts';
import type { MomentId } from '#engine/sheet.ts';
import type { Label } from '#engine/specimens/events.ts';
import type { Patient, SpecimenStage, Team } from '#engine/state.ts';

/**
 * A practice case as the build ships it: who it is about, what is recorded before the person begins, what is
 * said on the way, and what really happens. Plain data.
 */
export type Script = {
  /** The name of its drill file. */
  readonly id: string;
  /** As the start screen calls it. Tells nothing of what goes missing. */
  readonly name: string;
  readonly about: string;
  /** 1 is the easiest. */
  readonly level: number;
  /** The id of a sheet of `checklists/`. */
  readonly sheet: string;
  readonly patient: Patient;
  readonly team: Team;
  readonly variants: readonly string[];
  /** Entries that the practice makes itself before the person begins. */
  readonly prepared: readonly Prepared[];
  readonly scenes: readonly Scene[];
  readonly slips: readonly Slip[];
};

export type Prepared = { readonly command: Command; readonly by: string };

/** One thing to do. The scene of the moment is the first that is not done yet. */
export type Scene = {
  readonly id: string;
  readonly do: string;
  readonly why?: string;
  readonly until: Condition;
  /** A pack of this line is in the hand: what it really holds is shown. */
  readonly opens?: string;
  /** The label of this specimen is in the hand. */
  readonly label?: string;
};

/** What the record must say. All that is given must hold. Units: whole pieces, all together since the case began. */
export type Condition = {
  readonly checkpoint?: string;
  readonly counted?: MomentId;
  readonly incised?: boolean;
  readonly added?: Pieces;
  readonly into?: Pieces;
  readonly out?: Pieces;
  readonly turned?: Pieces;
  readonly specimen?: Readonly<Record<string, SpecimenStage>>;
  readonly looked?: string;
  readonly closed?: string;
  readonly finished?: boolean;
};

type Pieces = Readonly<Record<string, number>>;

/** Where a thing that was lost can be looked for, as the record knows it. */
export const searches = ['field-searched', 'room-searched', 'look'] as const;
export type Search = (typeof searches)[number];

/** What goes wrong, and nobody says it. */
export type Slip = LostPieces | OddPack | WrongLabel;

/** Pieces lie where nobody knows, from the beginning of a scene on, until somebody looks there. */
export type LostPieces = SlipWords & {
  readonly kind: 'lost';
  readonly line: string;
  readonly pieces: number;
  readonly at: string;
  /** Where they are taken from; elsewhere if they are not there. */
  readonly from: 'table' | 'patient' | 'off';
  readonly lies: 'inside' | 'room';
  /** After "It lay": behind the bowel. */
  readonly where: string;
  readonly foundBy: readonly Search[];
  /** What is said when it is found. */
  readonly found: string;
};
/** The next pack of a line that is opened does not hold what its label says. */
export type OddPack = SlipWords & {
  readonly kind: 'pack';
  readonly line: string;
  readonly holds: number;
};
/** The first label of a specimen is not of this patient. */
export type WrongLabel = SlipWords & {
  readonly kind: 'label';
  readonly specimen: string;
  readonly says: Label;
};
type SlipWords = {
  readonly id: string;
  /** What really happened, told at the end. */
  readonly happened: string;
  readonly caught: string;
  readonly missed: string;
};
