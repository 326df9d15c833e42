import type { Sheet } from '#engine/sheet.ts';

/** A sheet on the shelf: its head is at hand, the whole is read when a case is opened with it. */
export type SheetEntry = Pick<Sheet, 'id' | 'title' | 'version'> & {
  /** Reads from the files of this version of the program. Fails when a file is not there. */
  readonly load: () => Promise<Sheet>;
};

/**
 * In the order in which their titles are read, in the language that is spoken. Asked for where they are listed: what
 * compares words costs a slow tablet 60 ms the first time, and a case that goes on lists none.
 */
export const byTitle = <Entry extends SheetEntry>(entries: readonly Entry[]): readonly Entry[] =>
  entries.toSorted((one, other) => one.title.localeCompare(other.title));
