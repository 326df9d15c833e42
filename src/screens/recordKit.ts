import type { Component } from 'solid-js';
import type { Owed } from '#engine/case/owedAfter.ts';
import type { SettledAfter } from '#engine/case/settledAfter.ts';
import type { Case } from '#engine/state.ts';
import type { CaseSummary, RecordedRow } from '#session/state.ts';

/** What a page of the record, and whatever is made of it, is given. */
export type RecordProps = {
  readonly current: Case;
  readonly rows: readonly RecordedRow[];
  /** SHA-256 of the last row, in hex, and its short form. */
  readonly head: string;
  readonly code: string;
};

/** A file to hand out. */
export type TakenOut = { readonly text: string; readonly name: string; readonly type: string };

/** What can be made of a record, joined in `main.tsx`: screens do not reach into `record`. */
export type RecordKit = {
  readonly codeOf: (head: string) => string;
  /** Pages that are read and printed; the first is shown first. */
  readonly pages: readonly {
    readonly id: string;
    readonly name: string;
    readonly page: Component<RecordProps>;
  }[];
  /** Forms for other systems. */
  readonly outputs: readonly {
    readonly id: string;
    readonly name: string;
    readonly detail: string;
    readonly make: (record: RecordProps) => Promise<TakenOut>;
  }[];
  /** The list of what is still owed after the operations, as a table for a spreadsheet. */
  readonly owedTable: (owed: readonly OwedCase[], now: string) => TakenOut;
};

type InCase = Pick<CaseSummary, 'caseId' | 'patient' | 'number' | 'title' | 'startedAt'>;

/** One thing that is owed, and the case that owes it. */
export type OwedCase = Owed & InCase;

/** One thing that was owed and is settled, and its case. */
export type SettledCase = SettledAfter & InCase;
