import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';

/** A sheet to be printed, with the case that is on, if there is one. */
export type Printed = {
  readonly sheet: Sheet;
  readonly current?: Case | undefined;
  /** When it is printed, as an instant. Missing on a form that is kept for a rainy day. */
  readonly at?: string | undefined;
};
