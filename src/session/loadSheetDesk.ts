import type { SheetDesk } from '#rehearsal/sheetDesk.ts';

let loading: Promise<SheetDesk> | undefined;

/**
 * The desk over the sheets of this version of the program. The reader of YAML and the texts are loaded here and now,
 * since most starts of the program need neither.
 *
 * Fails: where a file of the program is not there; the next call tries again.
 */
export function loadSheetDesk(): Promise<SheetDesk> {
  loading ??= loaded();
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

async function loaded(): Promise<SheetDesk> {
  const [{ makeSheetDesk }, { sheets, shared }] = await Promise.all([
    import('#rehearsal/sheetDesk.ts'),
    import('virtual:sheet-texts'),
  ]);
  return makeSheetDesk(sheets, shared);
}
