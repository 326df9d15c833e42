/** The case as its entries have made it: plain, readonly data. What did not change keeps its identity. */
import type { Counts } from './countState.ts';
import type { Warning } from './decision.ts';
import type { Ledger, Posting } from './ledger.ts';
import type { CarriedFrom, Line, MomentId, Role, Sheet, Side } from './sheet.ts';

/** Units: `weightKg` in kilograms; `born` as YYYY-MM-DD. */
export type Patient = {
  readonly name: string;
  readonly number: string;
  readonly born: string;
  readonly weightKg?: number;
  /** Undefined: not asked yet. Empty: none known. */
  readonly allergies?: readonly string[];
};

export type Team = Readonly<Record<Role, string>>;

export type Case = {
  readonly id: string;
  readonly sheet: Sheet;
  readonly patient: Patient;
  readonly practice: boolean;
  readonly team: Team;
  /** The variant in force, by group. */
  readonly variants: Readonly<Record<string, string>>;
  readonly startedAt: string;
  /** Number of the last entry. */
  readonly entry: number;
  readonly lastAt: string;
  /** Id of the command that opened it. */
  readonly openedId: string;
  /** All lines: the sheet's and those that breaking opened. */
  readonly lines: ReadonlyMap<string, Line>;
  readonly ledger: Ledger;
  readonly log: Log | undefined;
  readonly incisionAt: string | undefined;
  readonly counts: Counts;
  /** Entry that last made the counts stale. */
  readonly agedEntry: number;
  readonly differing: Readonly<Record<string, Differing>>;
  readonly settled: readonly Settled[];
  readonly fragments: readonly FragmentSet[];
  /** What stays, by line. */
  readonly left: Readonly<Record<string, readonly LeftPieces[]>>;
  readonly missing: readonly MissingPieces[];
  readonly away: readonly AwayPieces[];
  readonly carried: readonly CarriedPieces[];
  /** The packs that were scanned when they were added. */
  readonly scanned: readonly ScannedPacks[];
  readonly xrays: readonly XrayReading[];
  readonly deferral: Deferral | undefined;
  readonly checkpoints: Readonly<Record<string, CheckpointState>>;
  readonly specimens: Readonly<Record<string, Specimen>>;
  readonly closures: Readonly<Record<string, ClosureState>>;
  /** Last-look answers that stand, by closure and step. */
  readonly looks: Readonly<Record<string, Readonly<Record<string, Answer>>>>;
  readonly handovers: Readonly<Record<string, Handover>>;
  readonly doses: readonly Dose[];
  readonly weighed: readonly Weighed[];
  readonly fluids: readonly Fluid[];
  readonly notes: readonly Note[];
  readonly finishedAt: string | undefined;
};

/** What an entry did, newest first, so that it can be taken back. */
export type Log = Logged & { readonly tail: Log | undefined };
export type Logged = {
  readonly entry: number;
  /** Of the command. */
  readonly id: string;
  readonly type: string;
  /** The line, specimen or closure it concerns, for a sentence. */
  readonly subject: string;
  readonly postings: readonly Posting[];
  readonly ages: boolean;
  readonly asksLook: boolean;
  readonly canTakeBack: boolean;
  readonly undo: readonly Undo[];
  readonly corrected: boolean;
};

/** A value to put back, and where. `key` is missing where the whole slice is one value. */
export type Undo =
  | { readonly slice: 'specimens'; readonly key: string; readonly before: Specimen | undefined }
  | {
      readonly slice: 'left';
      readonly key: string;
      readonly before: readonly LeftPieces[] | undefined;
    }
  | { readonly slice: 'handovers'; readonly key: string; readonly before: Handover | undefined }
  | {
      readonly slice: 'looks';
      readonly key: string;
      readonly before: Readonly<Record<string, Answer>> | undefined;
    }
  | { readonly slice: 'differing'; readonly key: string; readonly before: Differing | undefined }
  | {
      readonly slice: 'checkpoints';
      readonly key: string;
      readonly before: CheckpointState | undefined;
    }
  | { readonly slice: 'doses'; readonly before: readonly Dose[] }
  | { readonly slice: 'missing'; readonly before: readonly MissingPieces[] }
  | { readonly slice: 'away'; readonly before: readonly AwayPieces[] }
  | { readonly slice: 'carried'; readonly before: readonly CarriedPieces[] }
  | { readonly slice: 'scanned'; readonly before: readonly ScannedPacks[] }
  | { readonly slice: 'fragments'; readonly before: readonly FragmentSet[] }
  | { readonly slice: 'xrays'; readonly before: readonly XrayReading[] }
  | { readonly slice: 'weighed'; readonly before: readonly Weighed[] }
  | { readonly slice: 'fluids'; readonly before: readonly Fluid[] }
  | { readonly slice: 'notes'; readonly before: readonly Note[] }
  | { readonly slice: 'patient'; readonly before: Patient };

export const discrepancySteps = [
  'surgeon-told',
  'record-read',
  'field-searched',
  'room-searched',
  'xray',
] as const;
export type DiscrepancyStep = (typeof discrepancySteps)[number];

/** A line that did not agree: first to be recounted, then a discrepancy. */
export type Differing = {
  readonly line: string;
  /** The entry at which it first differed. */
  readonly entry: number;
  readonly stage: 'recount' | 'discrepancy';
  readonly moment: MomentId;
  /** The gate that it holds first: a closure or `sign-out`. */
  readonly gate: string;
  /** Seen minus expected at the last count that differed. */
  readonly difference: number;
  readonly expected: number;
  readonly found: number;
  /** Pieces of the excess that were amended since. */
  readonly amended: number;
  /** Agreeing recounts in a row since. */
  readonly streak: number;
  readonly recounts: number;
  readonly steps: Readonly<Partial<Record<DiscrepancyStep, StepDone>>>;
  readonly openedAt: string;
};
export type StepDone = { readonly by: string; readonly at: string; readonly skipped?: string };
export type Settled = Differing & {
  readonly how: 'agreed' | 'declared';
  readonly settledAt: string;
  readonly reason?: string;
  readonly by?: readonly string[];
};

/** What one piece broke into. Units: `lengths` and `wholeMm` in millimetres. */
export type FragmentSet = {
  readonly line: string;
  readonly of: string;
  readonly entry: number;
  readonly into: number;
  readonly lengths?: readonly number[];
  readonly wholeMm?: number;
  /** Lengths that do not add up, accepted by the surgeon and one other. */
  readonly explained?: string;
};

export type LeftPieces = {
  readonly n: number;
  /** Where it was inside; missing for what stays from the table, of which nobody said the site. */
  readonly site?: string;
  readonly reason?: string;
  readonly where?: string;
  readonly lot?: string;
  /** Left although the line may not stay: the surgeon and one other decided. */
  readonly decidedBy?: readonly string[];
  readonly at: string;
};
export type MissingPieces = {
  readonly line: string;
  readonly n: number;
  readonly why: 'declared' | 'searched-none';
  readonly reason: string;
  readonly by: readonly string[];
  readonly at: string;
};
export type AwayPieces = {
  readonly line: string;
  readonly n: number;
  readonly with: string;
  readonly at: string;
};
export type CarriedPieces = {
  readonly line: string;
  readonly n: number;
  readonly site: string;
  readonly from: CarriedFrom;
  readonly at: string;
};

/** What the codes of packs said, one text a pack, and how many pieces all of that entry brought. */
export type ScannedPacks = {
  readonly line: string;
  readonly n: number;
  readonly words: readonly string[];
  readonly at: string;
};

export type XrayReading = {
  readonly entry: number;
  readonly line?: string;
  readonly wholeField: boolean;
  readonly result: 'nothing-seen' | 'seen';
  readonly readBy: string;
  readonly at: string;
};
export type Deferral = {
  readonly reason: string;
  readonly by: readonly string[];
  readonly at: string;
};

type By = { readonly by: string; readonly at: string };
/** `scanned`: the wristband was scanned beside the answer, and was this patient's. */
export type Answer =
  | ({ readonly kind: 'given'; readonly value: string; readonly scanned?: true } & By)
  | ({ readonly kind: 'not-applicable'; readonly reason: string } & By)
  | { readonly kind: 'open'; readonly name: string; readonly reason: string; readonly at: string };

export type CheckpointState = {
  readonly begun: boolean;
  readonly leader: string;
  readonly present: readonly string[];
  readonly answers: Readonly<Record<string, Answer>>;
  readonly beganAt: string;
  readonly finishedAt: string | undefined;
  readonly computed: Readonly<Record<string, string>>;
  readonly fast: boolean;
  readonly reopened: readonly { readonly reason: string; readonly at: string }[];
};

/**
 * planned -> [taken] -> taken -> [contained] -> contained -> [labelled] -> labelled -> [readBack] -> readBack
 * readBack -> [handedOver] -> handedOver. planned -> [notTaken] -> notTaken. A label that is read back wrongly
 * goes from labelled to contained.
 */
export type SpecimenStage =
  | 'planned'
  | 'taken'
  | 'contained'
  | 'labelled'
  | 'readBack'
  | 'handedOver'
  | 'notTaken';

export type Specimen = {
  readonly id: string;
  readonly letter: string;
  readonly name: string;
  readonly site: string;
  readonly siteWords: string;
  readonly side: Side;
  readonly test: string;
  readonly media: readonly string[];
  readonly bagWanted: boolean;
  readonly stage: SpecimenStage;
  readonly pieces?: number;
  readonly isWhole?: boolean;
  /** The surgeon's word that a part stays, or that nothing was taken. */
  readonly partReason?: string;
  readonly bag?: 'intact' | 'torn' | 'none';
  readonly carries?: Readonly<Record<string, number>>;
  readonly takenAt?: string;
  readonly pot?: string;
  readonly medium?: string;
  readonly mediumReason?: string;
  readonly containedAt?: string;
  readonly seenBy?: readonly string[];
  readonly labelledBy?: string;
  readonly labelledAt?: string;
  readonly readBackBy?: string;
  readonly readBackAt?: string;
  readonly handedTo?: string;
  readonly handedAt?: string;
};

export type ClosureState = {
  readonly closedAt: string | undefined;
  /** The entry by which it was last made. */
  readonly entry: number;
  readonly reopened: readonly { readonly reason: string; readonly at: string }[];
};

export type Handover = {
  readonly line: string;
  /** Pieces that stayed when it was given. */
  readonly n: number;
  readonly to: string;
  readonly plan: string;
  readonly at: string;
};
export type Dose = { readonly agent: string; readonly mg: number | undefined; readonly at: string };
export type Weighed = {
  readonly line: string;
  readonly n: number;
  readonly wetG: number;
  readonly at: string;
};
export type Fluid = {
  readonly kind: 'suction' | 'irrigation' | 'other';
  readonly ml: number;
  readonly at: string;
};
export const settlings = ['result-seen', 'result-not-seen', 'taken-out', 'not-taken-out'] as const;
export type Settling = (typeof settlings)[number];

/**
 * What a note settles of what a case still owes, or says to be owed again, whatever language its words are in: of a
 * specimen, or of so many pieces of a line. Units: `n` whole pieces.
 */
export type Settles = {
  readonly settles: Settling;
  readonly about: string;
  readonly n?: number;
};

export type Note = Partial<Settles> & {
  readonly text: string;
  readonly by: string;
  readonly at: string;
};

/** Kept for the screen: what was said beside the last entry. */
export type Said = readonly Warning[];
