/** One row of a case: the events of one command, who asked and when, chained to the row before. */
export type Envelope<E = unknown> = {
  /** Version of this form, not of the events. */
  readonly v: 1;
  readonly caseId: string;
  /** 1, 2, 3, ... without gaps. The order of rows is this, never the time. */
  readonly seq: number;
  /** Of the command. The same id is recorded once. */
  readonly id: string;
  /** ISO text with an offset, as the tablet's clock had it. */
  readonly at: string;
  readonly by: string;
  /** Rises whenever another tab or tablet takes over the writing. */
  readonly epoch: number;
  /** Version of the program that wrote the row. */
  readonly app: string;
  readonly events: readonly E[];
  /** SHA-256 of the row before, in hex; `noPrevious` for the first. */
  readonly prev: string;
  /** SHA-256 over the canonical JSON of all the above, in hex. */
  readonly hash: string;
};

/** What stands as `prev` in the first row of a case. */
export const noPrevious = '0'.repeat(64);
