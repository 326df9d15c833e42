import type { Signature } from '#engine/decision.ts';

/** What people confirm with their PINs, in words, and who they are. */
export type ToSign = { readonly words: string; readonly names: readonly string[] };

/** What is waiting for PINs. `names` empty: anybody of the unit. */
export type Asking = ToSign & {
  /** Whether it may be done without a PIN: what must not wait in theatre. */
  readonly canGoWithout: boolean;
  readonly done: readonly Signature[];
  readonly isChecking: boolean;
  /** Why the last PIN was not taken. */
  readonly failure: string | undefined;
  /** Until when no PIN of this person is taken. Units: milliseconds of the steady clock of the page. */
  readonly waitMs: number;
};

/** Whose turn it is; undefined where anybody may answer. */
export const turnOf = ({ names, done }: Asking): string | undefined => names[done.length];
