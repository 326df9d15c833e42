import type { Sheet } from '#engine/sheet.ts';
import { textFromBytes } from '#sheets/bytes.ts';
import { differenceInWords, differencesOf } from '#sheets/differences.ts';
import { readShared } from '#sheets/shared.ts';
import { type ChangeSaid, withChangeWritten } from '#sheets/writeChange.ts';
import { checkSheet } from './checkSheet.ts';

/** The text of a file of sheets, as it is shipped with the program. */
export type SheetText = { readonly name: string; readonly file: string; readonly text: string };

/** A sheet that was read and has no mistake, or every mistake in it. */
export type DeskRead =
  | {
      readonly ok: true;
      readonly sheet: Sheet;
      readonly text: string;
      /** What an author should know of, in sentences. */
      readonly notes: readonly string[];
    }
  | { readonly ok: false; readonly mistakes: readonly DeskMistake[] };
export type DeskMistake = {
  readonly message: string;
  /** The shortest way to what only a played case shows, as steps of a drill. */
  readonly way: readonly string[];
};
/** What changed, under the heading of its kind. */
export type DeskDifferences = readonly {
  readonly heading: string;
  readonly sentences: readonly string[];
}[];

/** Everything that needs the reader of YAML. It is loaded when a sheet is brought in or changed, and not before. */
export type SheetDesk = {
  readonly readBytes: (bytes: Uint8Array, file: string) => DeskRead;
  readonly readText: (text: string, file: string) => DeskRead;
  readonly differences: (before: Sheet, after: Sheet) => DeskDifferences;
  readonly withChange: (text: string, change: ChangeSaid) => string;
  /** The text of a sheet as it is shipped. */
  readonly shippedText: (id: string) => string | undefined;
};

/** Makes the desk over the files that are shipped with the program. */
export function makeSheetDesk(
  sheets: readonly SheetText[],
  sharedFiles: readonly SheetText[],
): SheetDesk {
  const shared = readShared(sharedFiles);
  function readText(text: string, file: string): DeskRead {
    const checked = checkSheet(text, { file: asNamed(file), shared });
    if (!checked.ok)
      return {
        ok: false,
        mistakes: checked.issues.map(({ message, way = [] }) => ({ message, way })),
      };
    const notes = checked.warnings.map(({ message }) => message);
    return { ok: true, sheet: checked.sheet, text, notes };
  }
  return {
    readText,
    readBytes: (bytes, file) => {
      const read = textFromBytes(bytes, file);
      if (read.ok) return readText(read.text, file);
      return { ok: false, mistakes: [{ message: read.issue.message, way: [] }] };
    },
    differences: inGroups,
    withChange: withChangeWritten,
    shippedText: (id) => sheets.find(({ name }) => name === id)?.text,
  };
}

/** A browser that saves a file a second time calls it "x (1).yaml"; the sheet in it is still x. */
const asNamed = (file: string): string => file.replace(/ ?\(\d+\)(?=\.ya?ml$)/, '');

function inGroups(before: Sheet, after: Sheet): DeskDifferences {
  const groups = new Map<string, string[]>();
  for (const difference of differencesOf(before, after)) {
    const known = groups.get(difference.heading) ?? [];
    groups.set(difference.heading, [...known, differenceInWords(difference)]);
  }
  return [...groups].map(([heading, sentences]) => ({ heading, sentences }));
}
