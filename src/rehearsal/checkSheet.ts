import type { Sheet } from '#engine/sheet.ts';
import { fieldOf } from '#sheets/checking.ts';
import { type Issue, issueOf, type Warning } from '#sheets/issues.ts';
import { type ParsedSheet, parseSheet } from '#sheets/parseSheet.ts';
import type { SharedParts } from '#sheets/shared.ts';
import { rehearse } from './rehearse.ts';

/** A sheet that is fit for use, or every mistake in it. */
export type CheckedSheet =
  | { readonly ok: true; readonly sheet: Sheet; readonly warnings: readonly Warning[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** Reads the text of a sheet and, where it has no mistake, plays it with the engine to find those that hide. */
export function checkSheet(
  text: string,
  options: { readonly file?: string; readonly shared?: SharedParts } = {},
): CheckedSheet {
  const parsed = parseSheet(text, options);
  if (!parsed.ok) return parsed;
  const issues = issuesFrom(parsed);
  if (issues.length > 0) return { ok: false, issues };
  const { sheet, warnings } = parsed;
  return { ok: true, sheet, warnings };
}

type Parsed = Extract<ParsedSheet, { readonly ok: true }>;

/** What playing a sheet finds, as mistakes of its text. */
export const issuesFrom = ({ sheet, positionOf }: Parsed): readonly Issue[] =>
  rehearse(sheet).map(({ code, path, found, expected, way }) => ({
    ...issueOf({ code, at: positionOf(path), field: fieldOf(path), found, expected }),
    way,
  }));
