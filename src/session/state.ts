import type { Outcome } from '#engine/case/outcomeOf.ts';
import type { Refusal } from '#engine/refusals.ts';
import type { Case } from '#engine/state.ts';
import { emptyBook } from '#vault/book.ts';
import type { VaultState } from '#vault/ports.ts';
import type { LanguageId } from '#words/languages.ts';
import type { Asking } from './asking.ts';
import type { DeviceNote, Report } from './ports.ts';
import type { Route } from './route.ts';

/** One case in the list of the start screen. */
export type CaseSummary = Outcome & {
  readonly caseId: string;
  readonly patient: string;
  readonly number: string;
  readonly title: string;
  readonly startedAt: string;
  readonly finishedAt: string | undefined;
  readonly practice: boolean;
  /** Why it cannot be gone on with, where the record is damaged. */
  readonly damaged: string | undefined;
  /** Only a PIN opens it: nothing else is known of it. */
  readonly isLocked: boolean;
  readonly rows: number;
  readonly head: string;
};

/** What is said to the user until it is dismissed or something is entered. */
export type Notice =
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'said'; readonly sentences: readonly string[] }
  | { readonly kind: 'failed'; readonly sentence: string };

/** How this theatre's scanners send the separator, where they do not send it as it is. */
export type ScannerSettings = {
  /** Letters in its place: {GS}. */
  readonly separatorText?: string;
  /** A key in its place: F8. */
  readonly separatorKey?: string;
};

export type SessionState = {
  readonly stage: 'starting' | 'ready' | 'fault';
  readonly route: Route;
  readonly current: Case | undefined;
  /** The last entry of the open case. Those before it lie in the journal: a case of a day has 20,000. */
  readonly last: RecordedRow | undefined;
  readonly head: string;
  /** Counts the windows that have written this case, one after another; stands on every row. */
  readonly epoch: number;
  readonly cases: readonly CaseSummary[];
  readonly notice: Notice | undefined;
  /** A case is being opened: its first entry is on its way to disk. */
  readonly isOpening: boolean;
  readonly savedAt: string | undefined;
  /** Why the last entry is not on disk; it is offered again. Holds closure. */
  readonly notSaved: string | undefined;
  /** Another window writes this case: this one follows. */
  readonly follows: boolean;
  /** The record is damaged from a row on: it is shown, and takes nothing new. */
  readonly damaged: string | undefined;
  readonly reports: readonly Report[];
  /** Of these what concerns the open case, until somebody has read it; and what was read. */
  readonly unread: readonly Report[];
  readonly heeded: readonly Report[];
  readonly persisted: boolean | undefined;
  readonly lights: 'up' | 'down';
  /** What the program speaks. */
  readonly language: LanguageId;
  readonly scanner: ScannerSettings;
  /** What the tablet itself cannot do, or soon no longer will. */
  readonly device: readonly DeviceNote[];
  readonly fault: string | undefined;
  /** The case whose paper is being typed in: each of its entries is marked so. */
  readonly fromPaper: string | undefined;
  /** When that happened, as the paper says; `none` where it has no time. Undefined: not said yet. */
  readonly paperTime: string | undefined;
  /** The people of the unit, and whether the tablet is locked. */
  readonly unit: VaultState;
  /** What waits for PINs. */
  readonly asking: Asking | undefined;
};

/** One entry of the record as it was written. `seq` counts from 1. */
export type RecordedRow = {
  readonly seq: number;
  readonly at: string;
  readonly events: readonly import('#engine/case/events.ts').CaseEvent[];
};

const nobody: VaultState = {
  stage: 'none',
  isByCode: false,
  people: [],
  policy: emptyBook.policy,
  takenOut: {},
  removed: [],
};

export const firstState = (
  route: Route,
  { lights, language, scanner }: Pick<SessionState, 'lights' | 'language' | 'scanner'>,
): SessionState => ({
  stage: 'starting',
  route,
  current: undefined,
  last: undefined,
  head: '',
  epoch: 1,
  cases: [],
  notice: undefined,
  isOpening: false,
  device: [],
  savedAt: undefined,
  notSaved: undefined,
  follows: false,
  damaged: undefined,
  reports: [],
  unread: [],
  heeded: [],
  persisted: undefined,
  lights,
  language,
  scanner,
  fault: undefined,
  fromPaper: undefined,
  paperTime: undefined,
  unit: nobody,
  asking: undefined,
});
