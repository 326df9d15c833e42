import type { Command } from '#engine/case/events.ts';
import type { Label, StepSpecimen } from '#engine/specimens/events.ts';

/** What a line is found to be at a count: `usual`, or the numbers that differ from it, not yet checked. */
export type FoundSaid = 'usual' | { readonly [part in 'field' | 'off' | 'packs']?: unknown };
export type FoundByLine = Readonly<Record<string, FoundSaid>>;

/** How one step is answered; `none` is left without an answer. */
export type AnswerSaid =
  | { readonly kind: 'value'; readonly value: string | number | boolean }
  | { readonly kind: 'notApplicable'; readonly reason: string }
  | { readonly kind: 'open'; readonly name: string; readonly reason: string }
  | { readonly kind: 'none' };
export type AnswersByStep = Readonly<Record<string, AnswerSaid>>;

/** What a label says otherwise than `usual`; null where a field is missing on it. */
export type LabelSaid = { readonly [field in keyof Label]?: string | null };

/** A step's command as it was asked: ready for the engine, or to be completed from the case. */
export type Asked =
  | { readonly kind: 'command'; readonly command: Command }
  | {
      readonly kind: 'look';
      readonly closure: string;
      readonly answers: AnswersByStep;
    }
  | {
      readonly kind: 'recount';
      readonly lines: FoundByLine;
      readonly by: readonly string[] | undefined;
    }
  | { readonly kind: 'label'; readonly command: StepSpecimen; readonly label: LabelSaid }
  | {
      readonly kind: 'count';
      readonly moment: string;
      readonly found: FoundByLine;
      readonly scrub: string | undefined;
      readonly circulator: string | undefined;
      readonly by: readonly string[] | undefined;
    }
  | {
      readonly kind: 'checkpoint';
      readonly id: string;
      readonly answers: AnswersByStep;
      readonly leader: string | undefined;
      readonly present: readonly string[] | undefined;
    }
  | { readonly kind: 'wait'; readonly minutes: number };
