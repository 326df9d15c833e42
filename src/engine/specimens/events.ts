import type { Posting } from '../ledger.ts';
import type { Side } from '../sheet.ts';

/** What a label says. `usual` in a drill is a label that says all of it rightly. */
export type Label = {
  readonly patientName?: string;
  readonly patientNumber?: string;
  readonly born?: string;
  readonly letter?: string;
  readonly specimenName?: string;
  readonly site?: string;
  readonly side?: string;
  readonly takenAt?: string;
};

export const specimenSteps = [
  'added',
  'taken',
  'contained',
  'labelled',
  'readBack',
  'handedOver',
  'notTaken',
  'partLeft',
] as const;
export type SpecimenStep = (typeof specimenSteps)[number];

/** One step of a specimen. Fields beyond `id` and `step` belong to the step named beside them. */
export type StepSpecimen = {
  readonly type: 'specimen';
  readonly id: string;
  readonly step: SpecimenStep;
  /** added */
  readonly name?: string;
  readonly letter?: string;
  readonly site?: string;
  readonly siteWords?: string;
  readonly side?: Side;
  readonly test?: string;
  readonly media?: readonly string[];
  /** taken */
  readonly pieces?: number;
  readonly whole?: boolean;
  readonly bag?: 'intact' | 'torn' | 'none';
  readonly carries?: Readonly<Record<string, number>>;
  /** contained */
  readonly pot?: string;
  readonly medium?: string;
  readonly seenBy?: readonly string[];
  /** contained with an unfit medium, notTaken, partLeft, readBack that disagrees */
  readonly reason?: string;
  /** labelled */
  readonly label?: Label | 'usual';
  readonly on?: 'pot' | 'lid';
  /** labelled, readBack, notTaken, partLeft */
  readonly by?: string;
  /** readBack: false when what was read back is not so */
  readonly agrees?: boolean;
  /** handedOver */
  readonly to?: string;
};

export type SpecimenAdded = {
  readonly type: 'specimenAdded';
  readonly specimen: string;
  readonly name: string;
  readonly letter: string;
  readonly site: string;
  readonly siteWords: string;
  readonly side: Side;
  readonly test: string;
  readonly media: readonly string[];
};
export type SpecimenTaken = {
  readonly type: 'specimenTaken';
  readonly specimen: string;
  readonly pieces: number;
  readonly whole: boolean;
  readonly bag: 'intact' | 'torn' | 'none';
  readonly carries: Readonly<Record<string, number>>;
  readonly postings: readonly Posting[];
};
export type SpecimenContained = {
  readonly type: 'specimenContained';
  readonly specimen: string;
  readonly pot: string;
  readonly medium: string;
  readonly seenBy: readonly string[];
  readonly reason?: string;
};
export type SpecimenLabelled = {
  readonly type: 'specimenLabelled';
  readonly specimen: string;
  readonly label: Required<Label>;
  readonly labelledBy: string;
};
export type SpecimenReadBack = {
  readonly type: 'specimenReadBack';
  readonly specimen: string;
  readonly readBy: string;
  readonly agrees: boolean;
  readonly reason?: string;
};
export type SpecimenHandedOver = {
  readonly type: 'specimenHandedOver';
  readonly specimen: string;
  readonly to: string;
};
export type SpecimenNotTaken = {
  readonly type: 'specimenNotTaken';
  readonly specimen: string;
  readonly reason: string;
  readonly surgeon: string;
};
export type SpecimenPartLeft = {
  readonly type: 'specimenPartLeft';
  readonly specimen: string;
  readonly reason: string;
  readonly surgeon: string;
};

export type SpecimensEvent =
  | SpecimenAdded
  | SpecimenTaken
  | SpecimenContained
  | SpecimenLabelled
  | SpecimenReadBack
  | SpecimenHandedOver
  | SpecimenNotTaken
  | SpecimenPartLeft;
