import type { Sheet } from '#engine/sheet.ts';
import { withChanges } from './changes.ts';
import { checkClosures } from './checkClosures.ts';
import { type Checking, mistake, type Path, positionAt } from './checking.ts';
import { checkLines } from './checkLines.ts';
import { checkSteps } from './checkSteps.ts';
import type { Issue, IssueCode, Position, Warning } from './issues.ts';
import { withOpenings } from './openings.ts';
import { warningsOf } from './rails.ts';
import { resolved } from './resolve.ts';
import { sheetShape } from './shape.ts';
import { noShared, type SharedParts, withIncludes } from './shared.ts';
import { type Grown, limits, treeFromData, treeFromText } from './tree.ts';

/** A sheet that is fit for use, or every mistake in it. */
export type ParsedSheet =
  | {
      readonly ok: true;
      readonly sheet: Sheet;
      readonly warnings: readonly Warning[];
      /** Where a part of the sheet stands in its text. */
      readonly positionOf: (path: Path) => Position;
    }
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
const nameOf = (file: string): string | undefined => /([^/\\]{1,200})\.ya?ml$/.exec(file)?.[1];

function sheetFromTree(grown: Grown, shared: SharedParts, name: string | undefined): ParsedSheet {
  const issues: Issue[] = [...grown.issues];
  // Of a text that is no YAML nobody can say what its fields would have been.
  const isUnreadable = issues.some(({ code }) => unreadable.includes(code));
  if (isUnreadable) return { ok: false, issues: inOrder(issues) };

  const included = withOpenings(withIncludes(grown.tree, shared, issues), issues);
  // Read before its changes as well: a mistake that a change covers is a mistake all the same.
  const first = sheetShape.read(included, '', issues);
  const { tree, changes, leftOut } = withChanges(included, first.changes ?? [], issues);
  const written = sheetShape.read(tree, '', issues);
  const sheet = resolved(written, changes);
  checkAll({ written, sheet, tree, issues, leftOut }, name);
  const told = [...shared.issues, ...issuesBetween(issues, shared, grown.tree.at.file)];
  if (told.length > 0) return { ok: false, issues: inOrder(told) };
  return {
    ok: true,
    sheet,
    warnings: warningsOf(sheet, tree),
    positionOf: (path) => positionAt(tree, path),
  };
}

/** A mistake of a shared file is told once, by itself; one that this sheet makes of its parts names the sheet. */
function issuesBetween(
  issues: readonly Issue[],
  shared: SharedParts,
  file: string,
): readonly Issue[] {
  const keyOf = ({ file, line, column, code }: Issue) => [file, line, column, code].join(' ');
  const known = new Set(shared.issues.map(keyOf));
  return issues.flatMap((issue) => {
    if (issue.file === file) return [issue];
    return known.has(keyOf(issue)) ? [] : [{ ...issue, message: takenInto(issue, file) }];
  });
}

const takenInto = ({ message, column }: Issue, file: string): string =>
  message.replace(`column ${column},`, `column ${column}, taken into ${file},`);

const unreadable: readonly IssueCode[] = ['not-yaml', 'too-large', 'too-deep'];

function checkAll(checking: Checking, name: string | undefined): void {
  const { sheet } = checking;
  if (name !== undefined && sheet.id !== '' && sheet.id !== name)
    mistake(checking, 'contradiction', ['sheet'], `"${sheet.id}"`, `the name of the file, ${name}`);
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
