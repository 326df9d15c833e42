import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Sheets } from '#drill/drillFile.ts';
import type { Sheet } from '#engine/sheet.ts';
import { loadShared } from '#sheets/loadSheets.ts';
import { parseSheet } from '#sheets/parseSheet.ts';

export const checklists = fileURLToPath(new URL('../../checklists', import.meta.url));
export const drillFolder = fileURLToPath(new URL('../drills', import.meta.url));

const shared = loadShared(checklists);

/** The sheets that a drill of tests/drills can name. */
export const sheets: Sheets = {
  shared,
  byName: (name) => {
    const path = [checklists, join(drillFolder, 'sheets')]
      .map((folder) => join(folder, `${name}.yaml`))
      .find((file) => existsSync(file));
    if (path === undefined) return { ok: false, sentence: `There is no sheet ${name}.` };
    const parsed = parseSheet(readFileSync(path, 'utf8'), { file: `${name}.yaml`, shared });
    return parsed.ok ? parsed : { ok: false, sentence: parsed.issues[0]?.message ?? name };
  },
};

/** A sheet by name; one that is not fit for use is a mistake of the test. */
export function sheetNamed(name: string): Sheet {
  const named = sheets.byName(name);
  if (!named.ok) throw new Error(named.sentence);
  return named.sheet;
}
