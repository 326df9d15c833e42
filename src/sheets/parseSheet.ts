import type { Sheet } from '#engine/sheet.ts';
import { withChanges } from './changes.ts';
import { checkClosures } from './checkClosures.ts';
import { type Checking, mistake } from './checking.ts';
import { checkLines } from './checkLines.ts';
import { checkSteps } from './checkSteps.ts';
import type { Issue, Position, Warning } from './issues.ts';
import { warningsOf } from './rails.ts';
import { resolved } from './resolve.ts';
import { sheetShape } from './shape.ts';
import { noShared, type SharedParts, withIncludes } from './shared.ts';
import { type Grown, limits, treeFromData, treeFromText } from './tree.ts';

/** A sheet that is fit for use, or every mistake in it. */
export type ParsedSheet =
  | { readonly ok: true; readonly sheet: Sheet; readonly warnings: readonly Warning[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

type Options = { readonly file?: string; readonly shared?: SharedParts };

/** Reads the text of a sheet. A sheet with any mistake is refused whole. */
export function parseSheet(
  text: string,
  { file = 'the sheet', shared = noShared }: Options = {},
): ParsedSheet {
  return sheetFromTree(treeFromText(text, file), shared, nameOf(file));
}

/** Reads a sheet that is data already, such as one written inside a drill. */
export function sheetFromData(
  data: unknown,
  { file = 'the sheet', shared = noShared, at }: Options & { readonly at?: Position } = {},
): ParsedSheet {
  return sheetFromTree(treeFromData(data, at ?? { file, line: 0, column: 0 }), shared, undefined);
}

/** The name that the sheet must have: that of its file, where it is one. */
const nameOf = (file: string): string | undefined => /([^/\\]+)\.ya?ml$/.exec(file)?.[1];

function sheetFromTree(grown: Grown, shared: SharedParts, name: string | undefined): ParsedSheet {
  const issues: Issue[] = [...grown.issues];
  // A text that is no YAML, or far too large, has no fields to speak of.
  const isUnreadable = issues.some(({ code }) => code === 'too-large' || code === 'too-deep');
  if (isUnreadable) return { ok: false, issues };

  const included = withIncludes(grown.tree, shared, issues);
  // Read once for its changes alone; what is wrong in them is told by the second reading.
  const first = sheetShape.read(included, '', []);
  const { tree, changes, leftOut } = withChanges(included, first.changes ?? [], issues);
  const written = sheetShape.read(tree, '', issues);
  const sheet = resolved(written, changes);
  const checking: Checking = { written, sheet, tree, issues, leftOut };
  checkAll(checking, name);
  if (issues.length > 0) return { ok: false, issues: inOrder(issues) };
  return { ok: true, sheet, warnings: warningsOf(sheet, tree) };
}

function checkAll(checking: Checking, name: string | undefined): void {
  const { sheet } = checking;
  if (name !== undefined && sheet.id !== '' && sheet.id !== name)
    mistake(
      checking,
      'contradiction',
      ['sheet'],
      `"${sheet.id}"`,
      `the name of the file, ${name},`,
    );
  checkLines(checking);
  checkSteps(checking);
  checkClosures(checking);
}

/** By file, line and column, each mistake once. */
function inOrder(issues: readonly Issue[]): readonly Issue[] {
  const seen = new Map(issues.map((issue) => [issue.message, issue]));
  return [...seen.values()]
    .sort(
      (one, other) =>
        one.file.localeCompare(other.file) || one.line - other.line || one.column - other.column,
    )
    .slice(0, limits.issues);
}
