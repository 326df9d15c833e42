/** What can go wrong in a call of a home, and how long that takes. */

export const databaseMishaps = [
  /** The storage is used up, as the standard says it. */
  'quota',
  /** The disk is full, as Chromium 156 says it: another name, and the connection is dead afterwards. */
  'full',
  /** The connection goes, with an event. */
  'connection-lost',
  /** The transaction ends without a word why. */
  'no-reason',
  /** It is done, and the answer says that it is not. */
  'done-but-denied',
  /** No answer for a long time. */
  'hangs',
  /** An answer after some seconds. */
  'slow',
  /** Opening: another window is in the way. Anything else: refused at once. */
  'blocked',
] as const;

export const fileMishaps = [
  /** The disk is full. */
  'throws',
  /** The disk becomes full in the middle, and the call says so by a number only. */
  'writes-half',
  /** It is done, and the call throws. */
  'done-but-denied',
  'hangs',
  'slow',
  /** The window is killed in the middle of the call. */
  'dies',
] as const;

export type DatabaseMishap = (typeof databaseMishaps)[number];
export type FileMishap = (typeof fileMishaps)[number];

/** Asked before each call, counted from 1. */
export type MishapAt<M> = (call: number) => M | undefined;

/** Units: milliseconds. */
export const hangMs = 20_000;
export const slowMs = 3000;
