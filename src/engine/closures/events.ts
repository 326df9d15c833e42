import type { Answer } from '../state.ts';

/** What one step of a last look is answered with. */
export type LookAnswer =
  | string
  | number
  | boolean
  | { readonly notApplicable: string }
  | { readonly open: { readonly name: string; readonly reason: string } };

/** The surgeon answers the last look before a closure, one step or several. */
export type Look = {
  readonly type: 'look';
  readonly closure: string;
  readonly answers: Readonly<Record<string, LookAnswer>>;
};
/** Asks to close. Refused as `held` while anything is open. */
export type Close = { readonly type: 'close'; readonly closure: string };
export type Reopen = { readonly type: 'reopen'; readonly closure: string; readonly reason: string };
/** Ends the case with its verdict. */
export type Finish = { readonly type: 'finish' };

export type ClosuresCommand = Look | Close | Reopen | Finish;

export type Looked = {
  readonly type: 'looked';
  readonly closure: string;
  readonly answers: Readonly<Record<string, Answer>>;
};
export type Closed = { readonly type: 'closed'; readonly closure: string };
export type Reopened = {
  readonly type: 'reopened';
  readonly closure: string;
  readonly reason: string;
};
export type Finished = { readonly type: 'finished' };

export type ClosuresEvent = Looked | Closed | Reopened | Finished;
