import type { CheckpointsCommand, CheckpointsEvent } from '../checkpoints/events.ts';
import type { ClosuresCommand, ClosuresEvent } from '../closures/events.ts';
import type { CountsCommand, CountsEvent } from '../counts/events.ts';
import type { Stamped } from '../decision.ts';
import type { DiscrepanciesCommand, DiscrepanciesEvent } from '../discrepancies/events.ts';
import type { Posting } from '../ledger.ts';
import type { MovesCommand, MovesEvent } from '../moves/events.ts';
import type { NotesCommand, NotesEvent } from '../notes/events.ts';
import type { Sheet } from '../sheet.ts';
import type { SpecimensEvent, StepSpecimen } from '../specimens/events.ts';
import type { Patient, Team } from '../state.ts';

/** Opens a case with the whole sheet, which it keeps. */
export type OpenCase = {
  readonly type: 'open';
  readonly caseId: string;
  readonly sheet: Sheet;
  readonly patient: Patient;
  readonly team: Team;
  readonly variants?: readonly string[];
  readonly practice?: boolean;
};
/** Another way of doing the operation, within its group; converting opens what the variant opens. */
export type ChangeVariant = { readonly type: 'variant'; readonly to: string };
/** Takes back the latest entry that can be taken back, or a given one. */
export type Correct = { readonly type: 'correct'; readonly last?: 1; readonly entry?: number };

export type Command =
  | MovesCommand
  | CountsCommand
  | DiscrepanciesCommand
  | StepSpecimen
  | CheckpointsCommand
  | ClosuresCommand
  | NotesCommand
  | ChangeVariant
  | Correct;

export type Opened = {
  readonly type: 'opened';
  readonly caseId: string;
  readonly sheet: Sheet;
  readonly patient: Patient;
  readonly team: Team;
  readonly variants: Readonly<Record<string, string>>;
  readonly practice: boolean;
};
export type VariantChanged = {
  readonly type: 'variantChanged';
  readonly group: string;
  readonly from: string;
  readonly to: string;
  /** What the variant opens and nobody has counted in yet. Units: pieces. */
  readonly opened: Readonly<Record<string, number>>;
  readonly postings: readonly Posting[];
};
export type Corrected = {
  readonly type: 'corrected';
  readonly corrects: number;
  /** The type of what was taken back, and its line, specimen or closure. */
  readonly what: string;
  readonly subject: string;
};

export type EventBody =
  | Opened
  | VariantChanged
  | Corrected
  | MovesEvent
  | CountsEvent
  | DiscrepanciesEvent
  | SpecimensEvent
  | CheckpointsEvent
  | ClosuresEvent
  | NotesEvent;

/** One recorded fact, with its entry number, command id, time and person. */
export type CaseEvent = Stamped<EventBody>;
