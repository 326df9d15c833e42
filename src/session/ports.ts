/** What the running program needs of the world, as types. `main.tsx` gives the real ones, tests their own. */
import type { decide } from '#engine/case/decide.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import type { evolve } from '#engine/case/evolve.ts';
import type { openCase } from '#engine/case/open.ts';
import type { outcomeOf } from '#engine/case/outcomeOf.ts';
import type { replay } from '#engine/history/replay.ts';
import type { Vault } from '#vault/openVault.ts';

export type Failure = { readonly code: string; readonly sentence: string };
export type Failed = { readonly ok: false; readonly failure: Failure };

/** What is to be written for one entry. */
export type Draft = {
  readonly id: string;
  readonly at: string;
  readonly by: string;
  readonly epoch: number;
  readonly app: string;
  readonly events: readonly CaseEvent[];
};

/** One row as it came back from the journal: its events are not checked yet. */
export type Row = {
  readonly seq: number;
  readonly epoch: number;
  readonly hash: string;
  readonly at: string;
  readonly events: readonly unknown[];
};

export type Report = { readonly code: string; readonly sentence: string };

/** The durable record. Nothing is acknowledged before it is on disk. */
export type JournalPort = {
  readonly append: (
    caseId: string,
    draft: Draft,
  ) => Promise<{ readonly ok: true; readonly envelope: { readonly hash: string } } | Failed>;
  readonly listCases: () => Promise<
    | {
        readonly ok: true;
        readonly cases: readonly { readonly caseId: string }[];
        readonly reports: readonly Report[];
      }
    | Failed
  >;
  readonly readCase: (
    caseId: string,
    as: 'writer' | 'reader',
  ) => Promise<
    | { readonly ok: true; readonly rows: readonly Row[]; readonly reports: readonly Report[] }
    | Failed
  >;
  readonly importCase: (
    text: string,
  ) => Promise<{ readonly ok: true; readonly caseId: string; readonly outcome: string } | Failed>;
  readonly exportCase: (
    caseId: string,
  ) => Promise<{ readonly ok: true; readonly text: string } | Failed>;
  readonly removeCase: (caseId: string) => Promise<{ readonly ok: true } | Failed>;
  /** Lets go of what was read lately. */
  readonly forget: () => void;
  /** Hears at once when an entry is not saved, when all is saved again, and what was mended. */
  readonly watch: (listener: (caseId: string, said: Report) => void) => () => void;
  readonly health: () => Promise<{
    readonly persisted: boolean | undefined;
    readonly reports: readonly Report[];
  }>;
};

export type Clock = {
  readonly now: () => string;
  /** A clock that nobody sets. Units: milliseconds since some beginning. */
  readonly steadyMs?: () => number;
};
export type Ids = { readonly next: () => string };

/** A small memory of where the screen was, so that a restart comes back to it. Nothing about a patient. */
export type Memory = {
  readonly read: (key: string) => string | undefined;
  readonly write: (key: string, value: string) => void;
};

/** One writer a case: answers whether this window may write. */
export type WriterPort = {
  readonly claim: (caseId: string, how?: 'take-over') => Promise<'writer' | 'reader'>;
  readonly release: () => void;
  /** Calls back when another window wrote. */
  readonly onWritten: (listener: (caseId: string) => void) => void;
  readonly wrote: (caseId: string) => void;
  /** Calls back when another window took the writing over. */
  readonly onLost: (listener: (caseId: string) => void) => void;
};

/** Whether anybody is at the tablet. */
export type IdlePort = {
  readonly onTouch: (listener: () => void) => void;
  readonly every: (ms: number, work: () => void) => void;
  /** Rises with time whatever is done to the clock of the device. Units: milliseconds. */
  readonly steadyMs: () => number;
};

/** What decides about commands, what folds the events of a case, and what a list says of it. */
export type Rules = {
  readonly decide: typeof decide;
  readonly openCase: typeof openCase;
  readonly evolve: typeof evolve;
  readonly replay: typeof replay;
  readonly outcomeOf: typeof outcomeOf;
};

export type DeviceCode = 'awake' | 'battery' | 'clock';

/** What the tablet itself cannot do, or soon no longer will, in a sentence. */
export type DeviceNote = { readonly code: DeviceCode; readonly sentence: string };

/** What the browser tells of the tablet itself. */
export type DevicePort = {
  /** Calls back with a sentence for the people at it; undefined when that is over. */
  readonly watch: (tell: (code: DeviceCode, sentence: string | undefined) => void) => void;
};

export type Ports = {
  /** What the browser says its user speaks, first choice first. */
  readonly languages?: readonly string[];
  readonly journal: JournalPort;
  readonly clock: Clock;
  readonly ids: Ids;
  readonly memory: Memory;
  readonly writer: WriterPort;
  readonly app: string;
  /** Read before a case is shown or opened. Fails: by a rejected promise, where they are not there. */
  readonly rules: () => Promise<Rules>;
  /** Without it nobody is set up, and nobody is asked. */
  readonly vault?: Vault;
  /** The short form of the key that signs what leaves the tablet; undefined where nothing can be signed. */
  readonly signedAs?: () => Promise<string | undefined>;
  readonly idle?: IdlePort;
  readonly device?: DevicePort;
};
