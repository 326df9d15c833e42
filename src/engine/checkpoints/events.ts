import type { Answer } from '../state.ts';

/** A checkpoint begins. `present` are roles or names; the leader must be among them. */
export type BeginCheckpoint = {
  readonly type: 'beginCheckpoint';
  readonly id: string;
  readonly leader?: string;
  readonly present?: readonly string[];
};
/** One step is answered, does not apply (with a reason), or is left open by name and reason. */
export type AnswerStep = {
  readonly type: 'answer';
  readonly checkpoint: string;
  readonly step: string;
  readonly value?: string | number | boolean;
  readonly notApplicable?: string;
  readonly open?: { readonly name: string; readonly reason: string };
  /** The wristband was scanned beside it, and was this patient's. */
  readonly scanned?: boolean;
};
export type FinishCheckpoint = { readonly type: 'finishCheckpoint'; readonly id: string };
export type ReopenCheckpoint = {
  readonly type: 'reopenCheckpoint';
  readonly id: string;
  readonly reason: string;
};
export type Incise = { readonly type: 'incision' };
/** Units: `mg` milligrams; `at` an instant, now where none is given. */
export type GiveDose = {
  readonly type: 'dose';
  readonly agent: string;
  readonly mg?: number;
  readonly at?: string;
};

export type CheckpointsCommand =
  | BeginCheckpoint
  | AnswerStep
  | FinishCheckpoint
  | ReopenCheckpoint
  | Incise
  | GiveDose;

export type CheckpointBegun = {
  readonly type: 'checkpointBegun';
  readonly checkpoint: string;
  readonly leader: string;
  readonly present: readonly string[];
};
export type Answered = {
  readonly type: 'answered';
  readonly checkpoint: string;
  readonly step: string;
  readonly answer: Answer;
};
export type CheckpointFinished = {
  readonly type: 'checkpointFinished';
  readonly checkpoint: string;
  /** What the computed steps said then, in words, by step. */
  readonly computed: Readonly<Record<string, string>>;
  readonly fast: boolean;
};
export type CheckpointReopened = {
  readonly type: 'checkpointReopened';
  readonly checkpoint: string;
  readonly reason: string;
};
export type Incised = { readonly type: 'incised' };
export type Dosed = {
  readonly type: 'dosed';
  readonly agent: string;
  readonly mg?: number;
  readonly givenAt: string;
};

export type CheckpointsEvent =
  | CheckpointBegun
  | Answered
  | CheckpointFinished
  | CheckpointReopened
  | Incised
  | Dosed;
