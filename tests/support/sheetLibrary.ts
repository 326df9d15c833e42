import type { Sheet } from '../../src/engine/sheet.ts';
import type { KeptSheet, SheetShelf } from '../../src/journal/sheetShelf.ts';
import { makeSheetDesk, type SheetText } from '../../src/rehearsal/sheetDesk.ts';
import { createSheetLibrary, type SheetLibrary } from '../../src/session/sheetLibrary.ts';

/** A shelf that forgets. */
export function memoryShelf(): SheetShelf {
  const kept: KeptSheet[] = [];
  return {
    all: () => Promise.resolve({ kept: [...kept], unread: 0 }),
    keep: (version) => Promise.resolve(void kept.push(version)),
  };
}

/** A library of these sheets, with the texts that they stand in, where a test changes one. */
export function libraryOf(
  sheets: readonly Sheet[],
  texts: readonly SheetText[] = [],
  shared: readonly SheetText[] = [],
  confirm?: (words: string) => Promise<readonly string[] | undefined>,
): SheetLibrary {
  return createSheetLibrary({
    shipped: sheets.map((sheet) => ({ ...sheet, load: () => Promise.resolve(sheet) })),
    shelf: memoryShelf(),
    desk: () => Promise.resolve(makeSheetDesk(texts, shared)),
    now: () => '2026-01-05T08:00:00+00:00',
    ...(confirm ? { confirm } : {}),
  });
}
