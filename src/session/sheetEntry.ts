import type { Sheet } from '#engine/sheet.ts';

/** A sheet on the shelf: its head is at hand, the whole is read when a case is opened with it. */
export type SheetEntry = Pick<Sheet, 'id' | 'title' | 'version'> & {
  /** Reads from the files of this version of the program. Fails when a file is not there. */
  readonly load: () => Promise<Sheet>;
};
