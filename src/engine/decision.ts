import { sayOf } from '#words/say.ts';
import { type Refusal, type RefusalCode, refusals } from './refusals.ts';
import { type WarningCode, warnings } from './warnings.ts';

/** What the world gives to a decision: when, who, and the id that makes a double tap record once. */
export type Context = {
  readonly at: string;
  readonly by: string;
  readonly id: string;
  /** Who confirmed it. No rule asks for it: it stands on the entry for those who read the record. */
  readonly signed?: readonly Signature[];
  /** It was written on paper first, and typed in later: `at` is when it was typed. No rule asks for it either. */
  readonly fromPaper?: true;
  /** When it happened, as the paper says. The rules and the case go by it; the order stays that of typing. */
  readonly paperAt?: string;
};

/** One person's say: with the own PIN, or without one and why. */
export type Signature = {
  readonly name: string;
  readonly how: 'pin' | 'without';
  readonly reason?: string;
};

/** What stands on every event: the number of its entry, the id of its command, when and by whom. */
export type Stamp = {
  readonly entry: number;
  readonly id: string;
  readonly at: string;
  readonly by: string;
  readonly signed?: readonly Signature[];
  readonly fromPaper?: true;
  readonly paperAt?: string;
};

export type Stamped<Body> = Body & Stamp;

/** Said to the user although the entry is made. */
export type Warning = { readonly code: WarningCode; readonly sentence: string };

export type Refused = { readonly ok: false; readonly refusal: Refusal };
export type Accepted<Body> = {
  readonly ok: true;
  readonly events: readonly Body[];
  readonly warnings: readonly Warning[];
};
export type Decision<Body> = Accepted<Body> | Refused;

export function refuse(code: RefusalCode, detail?: string): Refused {
  const { sentence, whatToDo } = refusals[code];
  const refusal = { code, sentence: sayOf(sentence), whatToDo: sayOf(whatToDo) };
  return { ok: false, refusal: detail === undefined ? refusal : { ...refusal, detail } };
}

export function accept<Body>(...events: readonly Body[]): Accepted<Body> {
  return { ok: true, events, warnings: [] };
}

/** The same decision, with something to say beside it. */
export function warned<Body>(
  decision: Accepted<Body>,
  ...codes: readonly WarningCode[]
): Accepted<Body> {
  const said = codes.map((code) => ({ code, sentence: sayOf(warnings[code]) }));
  return { ...decision, warnings: [...decision.warnings, ...said] };
}
