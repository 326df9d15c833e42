import type { Line } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { isSameItem, itemIn, lotWords, type Pack } from '#scan/packOf.ts';
import { say } from '#words/say.ts';

/** The lines that a scanned pack can be of, and how they are known. Empty: the nurse says which. */
export type LinesOfPack = {
  readonly lines: readonly Line[];
  readonly by: 'sheet' | 'case' | 'nobody';
};

/** Which line a pack is of: by its number in the sheet, or because somebody has said so in this case. */
export function linesOfPack(current: Case, { item }: Pack): LinesOfPack {
  if (item === undefined) return { lines: [], by: 'nobody' };
  const counted = [...current.lines.values()].filter((line) => line.counted);
  const named = counted.filter(({ codes }) => codes?.some((code) => isSameItem(code, item)));
  if (named.length > 0) return { lines: named, by: 'sheet' };
  const said = current.scanned.filter(({ words }) => words.some((one) => isItem(one, item)));
  const ids = new Set(said.map(({ line }) => line));
  const lines = counted.filter(({ id }) => ids.has(id));
  return { lines, by: lines.length > 0 ? 'case' : 'nobody' };
}

const isItem = (words: string, item: string): boolean => {
  const known = itemIn(words);
  return known !== undefined && isSameItem(known, item);
};

/** Why this pack cannot be taken again: one with a serial number is there only once. */
export function scannedBefore(
  current: Case,
  seen: readonly Pack[],
  pack: Pack,
): string | undefined {
  if (pack.serial === undefined) return undefined;
  const words = lotWords(pack);
  if (seen.some((other) => lotWords(other) === words))
    return say`This pack was scanned already: serial number ${pack.serial}.`;
  const before = current.scanned.find((one) => one.words.includes(words));
  return before === undefined
    ? undefined
    : say`This pack was added at ${before.at.slice(11, 16)}: serial number ${pack.serial}.`;
}

/** Pieces that a pack holds, before two people have looked. */
export const piecesOf = (line: Line, { pieces }: Pack): number => line.pack ?? pieces ?? 1;
