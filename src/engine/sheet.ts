/** A sheet as the engine reads it: checked, with every include and local change already applied. Plain data. */

/** Who stands where. A role is a place at the table, not a profession. */
export const roles = ['scrub', 'circulator', 'surgeon', 'anaesthetist'] as const;
export type Role = (typeof roles)[number];

/** The order in which a count goes: IFPN 1002 (swabs, sharps, small items, instruments). */
export const lineClasses = ['swab', 'sharp', 'small', 'instrument'] as const;
export type LineClass = (typeof lineClasses)[number];

/** When a count is made. */
export const momentIds = [
  'first',
  'added',
  'cavity',
  'closing',
  'final',
  'relief',
  'extra',
] as const;
export type MomentId = (typeof momentIds)[number];

export type Sheet = {
  readonly id: string;
  readonly title: string;
  /** Year and month of the last revision, as text: a list without a date is not a list. */
  readonly version: string;
  readonly aims: readonly string[];
  /** What the team says before the patient comes. Read, not gated. */
  readonly briefing?: readonly string[];
  readonly sites: readonly Site[];
  readonly variants: readonly Variant[];
  readonly sections: readonly Section[];
  readonly lines: readonly Line[];
  readonly moments: readonly Moment[];
  readonly checkpoints: readonly Checkpoint[];
  readonly specimens: readonly PlannedSpecimen[];
  readonly closures: readonly Closure[];
  readonly medicines: readonly Medicine[];
  readonly policy: Policy;
  readonly sources: readonly string[];
  /** What a theatre changed from the sheet it started with, who approved it and when. */
  readonly changes: readonly LocalChange[];
};

/** A place in the patient with a gate of its own. An orifice is open before any incision is made. */
export type Site = {
  readonly id: string;
  readonly name: string;
  readonly kind: 'cavity' | 'wound' | 'orifice';
};

/** When a variant can be chosen, where that is not at any time. */
export const variantChoices = ['mid-case', 'never'] as const;
export type VariantChoice = (typeof variantChoices)[number];

/**
 * One way of doing the operation. Of each group the case has one at a time (`stump`, `approach`).
 * `first` in its group is what a case has when nothing was chosen.
 */
export type Variant = {
  readonly id: string;
  readonly name: string;
  readonly group: string;
  /** What the theatre opens for it beyond the sheet, by line, in pieces: the tray list of the variant. */
  readonly opens: Readonly<Record<string, number>>;
  /** What the first count then has less of: a port whose place another takes. Nothing is taken back later. */
  readonly without?: Readonly<Record<string, number>>;
  readonly note?: string;
  /**
   * `mid-case`: a conversion, which adds to what was opened before it. `never`: stands until another of its group is
   * chosen (no side said yet). Without it, it can be chosen at any time.
   */
  readonly choose?: VariantChoice;
};

/** A tray or a set of packs, as it stands on the count sheet. */
export type Section = {
  readonly id: string;
  readonly name: string;
  /** The same in a word or two. */
  readonly short?: string;
  readonly instruments?: number;
};

/** What must be said before a piece may stay. */
export type StayNeed = 'reason' | 'where' | 'lot';
export type Stay =
  | { readonly may: 'no' }
  | { readonly may: 'yes' }
  | { readonly may: 'reason'; readonly needs: readonly StayNeed[] };

/** One row of the count sheet: one kind of piece. */
export type Line = {
  readonly id: string;
  readonly name: string;
  readonly detail?: string;
  readonly section: string;
  /** Lines of one thing that comes apart (a port) share a group, shown together. */
  readonly group?: string;
  /** A count asks once for it and such other parts of its group: how many of each are in sight. */
  readonly together?: true;
  readonly class: LineClass;
  /** Pieces that the tray list says are there at the first count; 0 when it is opened only if wanted. */
  readonly opening: number;
  /** Pieces in a pack; an `add` must say what each pack held. */
  readonly pack?: number;
  /** Can be wholly inside the patient, so that every move in and out is followed. */
  readonly tracked: boolean;
  /** Counted with the others. False for what is only followed by number (a faecolith). */
  readonly counted: boolean;
  readonly stay: Stay;
  /** May start in the patient: seen on imaging, left by an earlier operation, seen to spill. */
  readonly startsIn?: CarriedFrom;
  /** Whether a plain film shows it. */
  readonly film: 'yes' | 'no' | 'varies';
  /** Largest dimension in millimetres, where a film's worth depends on it. */
  readonly sizeMm?: number;
  /** Length in millimetres of the whole piece; the fragments of a broken one must add up to it. */
  readonly lengthMm?: number;
  /** False for a counted swab: cutting or breaking it is refused. */
  readonly cuttable: boolean;
  /** What comes into the field with each piece of it, or with each pack where it comes in packs. */
  readonly brings: readonly { readonly line: string; readonly n: number }[];
  readonly dryG?: number;
  /** Numbers of the packs that hold it, as their bar codes say: of GS1 with its check digit, or HIBC from its +. */
  readonly codes?: readonly string[];
  readonly turns: readonly Turn[];
  readonly source: string;
};

export const carriedFrom = ['imaging', 'earlier-operation', 'seen'] as const;
export type CarriedFrom = (typeof carriedFrom)[number];

/** One piece becomes other pieces. */
export type Turn = {
  readonly id: string;
  readonly name: string;
  /** Where the piece is when it turns. */
  readonly at: 'patient' | 'table' | 'any';
  /** Asks how many pieces it was cut into, and calls them this ("lengths"). */
  readonly asks?: string;
  readonly gives: readonly {
    readonly line: string;
    /** Pieces per piece that turns, or as many as were said. */
    readonly n: number | 'asked';
    /** `here` is where the piece was; `patient` is the site it was in, or the only site. */
    readonly place: 'here' | 'patient' | 'table' | 'off' | 'stays';
  }[];
};

export type Moment = {
  readonly id: MomentId;
  readonly name: string;
  /** What the count covers. */
  readonly classes: readonly LineClass[];
};

/** When something applies: all conditions given must hold. */
export type When = {
  readonly variant?: readonly string[];
  /** An earlier step of the same checkpoint was given one of these answers. */
  readonly step?: string;
  readonly is?: readonly string[];
  /** An earlier number step went over its flag. */
  readonly flagged?: boolean;
};

export type Answering =
  | { readonly kind: 'confirm' }
  | {
      readonly kind: 'choice';
      readonly options: readonly { readonly id: string; readonly name: string }[];
    }
  | {
      readonly kind: 'number';
      readonly unit?: string;
      /** A number above 0 opens this line inside the patient. */
      readonly opens?: { readonly line: string; readonly site: string; readonly from: CarriedFrom };
      /** `blood-loss`: over 500 mL, or over 7 mL/kg in a child (policy). */
      readonly flag?: 'blood-loss';
    }
  | { readonly kind: 'time' }
  | { readonly kind: 'text' }
  | { readonly kind: 'computed'; readonly from: ComputedFrom };

/**
 * `first-count`: agreed by two. `counts`: nothing open. `specimens`: labelled and read back.
 * `prophylaxis`: in its window. `left`: all that stays is explained.
 */
export const computedFrom = ['first-count', 'counts', 'specimens', 'prophylaxis', 'left'] as const;
export type ComputedFrom = (typeof computedFrom)[number];

/** Who can be asked beside the four roles. The midwife counts nothing; what she says is entered by the team. */
export const othersAsked = ['everyone', 'patient', 'midwife'] as const;

export type Step = {
  readonly id: string;
  readonly who: Role | (typeof othersAsked)[number];
  readonly ask: string;
  /** A few words for lists and holds. */
  readonly short: string;
  readonly answering: Answering;
  /** The answer a case without trouble gives; drills call it `usual`. */
  readonly usual?: string;
  /** Answers that stop the checkpoint until another is given. */
  readonly stopOn: readonly string[];
  readonly mayNotApply: boolean;
  readonly when?: When;
  /** Number of the item of the WHO list (2009) that this step is, 1 to 19. */
  readonly whoItem?: number;
  readonly source: string;
};

export type Checkpoint = {
  readonly id: string;
  readonly name: string;
  /** The act it must come before: `anaesthesia`, `incision`, a closure, or `leaving`. */
  readonly before: string;
  readonly leader: Role;
  readonly present: readonly Role[];
  readonly steps: readonly Step[];
  readonly when?: When;
};

export const sides = ['left', 'right', 'both', 'midline', 'not applicable'] as const;
export type Side = (typeof sides)[number];

export type PlannedSpecimen = {
  readonly id: string;
  readonly letter: string;
  readonly name: string;
  /** A site of the sheet: where it comes out of. */
  readonly site: string;
  /** What the label says of where it was taken; the site's name where this is missing. */
  readonly siteWords?: string;
  readonly side: Side;
  readonly test: string;
  /** Media fit for the test wanted. Another is possible, with a reason. */
  readonly media: readonly string[];
  readonly bag: boolean;
  /** Planned from the start; otherwise offered, and owed only once it is added. */
  readonly planned: boolean;
  readonly when?: When;
};

export type Closure = {
  readonly id: string;
  readonly name: string;
  readonly sites: readonly string[];
  readonly count: MomentId;
  /** Lines that may still be in use inside while this closure is made (port parts). */
  readonly inUse: readonly string[];
  readonly look: readonly Step[];
  readonly when?: When;
};

/** Prophylaxis: a starting value with its source, for the hospital to change. */
export type Medicine = {
  readonly id: string;
  readonly name: string;
  /** The usual dose of an adult; also the most that a child is given. */
  readonly doseMg?: number;
  /** Another dose for an adult of this weight or more. */
  readonly heavy?: { readonly fromKg: number; readonly doseMg: number };
  /** The dose of an adult where the table gives it by weight. */
  readonly mgPerKg?: number;
  /** Doses by weight are for the dosing weight, not for what the scales say. */
  readonly isByDosingWeight?: boolean;
  /** The part of a mixture that a child's dose counts, and how much of it an adult's dose holds. */
  readonly part?: { readonly name: string; readonly doseMg: number };
  /** What the table gives a child: the first that fits. */
  readonly child?: readonly ChildDose[];
  /** Minutes before incision in which the dose must have been started; the end is inside. */
  readonly windowMinutes: number;
  /** Hours from the start of the dose until the next; null where the table gives none. */
  readonly redoseHours: number | null;
  /** It has a key of its own where the antibiotic is asked; the others stand in a list behind one. */
  readonly isAtHand?: boolean;
  readonly source: string;
};

/** A child's dose by weight, and for which children. Units: milligrams per kilogram, months, kilograms. */
export type ChildDose = {
  readonly mgPerKg: number;
  /** The upper end, where the table gives a range. */
  readonly upToMgPerKg?: number;
  /** From this age on, the day included. */
  readonly fromMonths?: number;
  /** Older than this: the day itself is not included. */
  readonly overMonths?: number;
  readonly underKg?: number;
  /** Given once and not again. */
  readonly isOnce?: boolean;
};

/** Numbers a hospital can change. */
export type Policy = {
  readonly childUnderYears: number;
  readonly bloodLossMl: number;
  readonly childBloodLossMlPerKg: number;
  /** Below this size in millimetres a film cannot be trusted to show a needle. */
  readonly filmReliableMm: number;
  /** At or below this size a film is advised against by itself. */
  readonly filmPoorMm: number;
  readonly interruptedCount: 'whole' | 'class';
  /** Blood loss since a dose, in millilitres, above which it is given again before its time. */
  readonly redoseBloodLossMl: number;
  readonly secondsPerStep: number;
};

export type LocalChange = {
  readonly what: string;
  readonly from: string;
  readonly to: string;
  readonly reason: string;
  readonly approvedBy: string;
  readonly approvedOn: string;
};
