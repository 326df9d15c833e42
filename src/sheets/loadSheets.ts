import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Sheet } from '#engine/sheet.ts';
import type { Issue, Warning } from './issues.ts';
import { type ParsedSheet, parseSheet } from './parseSheet.ts';
import { readShared, type SharedParts } from './shared.ts';

/** Every sheet of a folder, or every mistake in any of them. */
export type LoadedSheets =
  | {
      readonly ok: true;
      readonly sheets: readonly Sheet[];
      readonly warnings: readonly Warning[];
    }
  | { readonly ok: false; readonly issues: readonly Issue[] };

const isSheetFile = (file: string): boolean => /\.ya?ml$/.test(file);

/** Finds mistakes in a sheet that has none by itself. */
type AlsoFinding = (parsed: Extract<ParsedSheet, { readonly ok: true }>) => readonly Issue[];

/**
 * Reads the sheets of a folder and the shared files beside them. Node only. `alsoFound` looks for more: the build
 * plays each sheet.
 *
 * Throws: what the file system throws, if the folder cannot be read.
 */
export function loadSheets(folder: string, alsoFound: AlsoFinding = () => []): LoadedSheets {
  const shared = loadShared(folder);
  const issues = new Map(shared.issues.map((issue) => [issue.message, issue]));
  const sheets: Sheet[] = [];
  const warnings: Warning[] = [];
  for (const file of readdirSync(folder).filter(isSheetFile).sort()) {
    const parsed = parseSheet(readFileSync(join(folder, file), 'utf8'), { file, shared });
    if (parsed.ok) {
      sheets.push(parsed.sheet);
      warnings.push(...parsed.warnings);
      for (const issue of alsoFound(parsed)) issues.set(issue.message, issue);
    } else for (const issue of parsed.issues) issues.set(issue.message, issue);
  }
  return issues.size > 0
    ? { ok: false, issues: [...issues.values()] }
    : { ok: true, sheets, warnings };
}

/** Reads the shared files of a folder of sheets. */
export function loadShared(folder: string): SharedParts {
  const inside = join(folder, 'shared');
  if (!existsSync(inside)) return readShared([]);
  return readShared(
    readdirSync(inside)
      .filter(isSheetFile)
      .sort()
      .map((file) => ({
        name: file.replace(/\.ya?ml$/, ''),
        file: `shared/${file}`,
        text: readFileSync(join(inside, file), 'utf8'),
      })),
  );
}
