import type { Sheet } from '#engine/sheet.ts';
import { sheetFromData } from '#sheets/parseSheet.ts';
import type { SharedParts } from '#sheets/shared.ts';
import type { Drill } from './drill.ts';
import { parseDrill, sheetPath } from './parseDrill.ts';
import type { Path } from './problems.ts';
import { type DrillDocument, type FileIssue, readDrills } from './readDrills.ts';

/** A drill with the sheet that it names or holds, ready to run. */
export type ReadyDrill = {
  readonly drill: Drill;
  readonly sheet: Sheet;
  readonly lineOf: (path: Path) => number;
};

export type DrillFile =
  | { readonly ok: true; readonly drills: readonly ReadyDrill[] }
  | { readonly ok: false; readonly issues: readonly FileIssue[] };

/** A sheet found by its name, or a sentence of why there is none. */
export type NamedSheet =
  | { readonly ok: true; readonly sheet: Sheet }
  | { readonly ok: false; readonly sentence: string };

export type Sheets = {
  readonly byName: (name: string) => NamedSheet;
  readonly shared: SharedParts;
};

/** Every drill of a file, or every mistake in it. A file with a mistake is not run. */
export function drillsOf(text: string, sheets: Sheets): DrillFile {
  const read = readDrills(text);
  if (!read.ok) return read;
  const drills: ReadyDrill[] = [];
  const issues: FileIssue[] = [];
  for (const document of read.documents) {
    const made = drillOf(document, sheets);
    if ('drill' in made) drills.push(made);
    else issues.push(...made);
  }
  return issues.length > 0 ? { ok: false, issues } : { ok: true, drills };
}

function drillOf(
  { data, lineOf }: DrillDocument,
  sheets: Sheets,
): ReadyDrill | readonly FileIssue[] {
  const parsed = parseDrill(data);
  if (!parsed.ok)
    return parsed.problems.map(({ path, sentence }) => ({ line: lineOf(path), sentence }));
  const { drill } = parsed;
  const line = lineOf(sheetPath);
  if (typeof drill.sheet === 'string') {
    const named = sheets.byName(drill.sheet);
    return named.ok ? { drill, sheet: named.sheet, lineOf } : [{ line, sentence: named.sentence }];
  }
  const held = sheetFromData(drill.sheet, {
    file: 'the sheet in the drill',
    shared: sheets.shared,
  });
  if (held.ok) return { drill, sheet: held.sheet, lineOf };
  return held.issues.map(({ message }) => ({ line, sentence: message }));
}
