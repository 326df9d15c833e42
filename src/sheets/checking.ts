import type { Sheet } from '#engine/sheet.ts';
import { type Issue, type IssueCode, listed, type Position, quoted } from './issues.ts';
import { tell } from './reader.ts';
import type { SheetWritten } from './shape.ts';
import { nearest } from './spelling.ts';
import { entryAt, type Tree } from './tree.ts';

/** What the checks of references work on: the sheet as written, as resolved, and where everything stands. */
export type Checking = {
  readonly written: SheetWritten;
  readonly sheet: Sheet;
  readonly tree: Tree;
  readonly issues: Issue[];
  /** Items of the WHO list that a change leaves out by name. */
  readonly leftOut: ReadonlySet<number>;
};

/** The way from the top of a sheet to a part of it: words, and places in lists from 0. */
export type Path = readonly (string | number)[];

/** Adds a mistake at a path of the sheet. Where a part was left out, the mistake stands where it belongs. */
export function mistake(
  { tree, issues }: Pick<Checking, 'tree' | 'issues'>,
  code: IssueCode,
  path: Path,
  found: string,
  expected: string,
): void {
  tell(issues, code, positionAt(tree, path), fieldOf(path), { found, expected });
}

/** Adds a mistake if the name is not known. A blank name was told already, and so was a sheet without lines. */
export function checkName(
  { tree, issues }: Checking,
  code: IssueCode,
  path: Path,
  name: string,
  known: readonly string[],
): void {
  if (name === '' || known.includes(name)) return;
  if (known.length === 0 && (code === 'unknown-line' || code === 'unknown-site')) return;
  tell(issues, code, positionAt(tree, path), fieldOf(path), {
    found: quoted(name),
    expected: listed(known),
    meant: nearest(name, known),
  });
}

/** Whether something is wrong there already, so that what follows from it is not told again. */
export const isTold = ({ issues }: Checking, path: Path): boolean =>
  issues.some(({ field }) => field === fieldOf(path));

/** Parts of lists are counted from 1, as people count. */
export const fieldOf = (path: Path): string =>
  path.map((key) => (typeof key === 'number' ? key + 1 : key)).join('.');

/** Where the path stands, or the nearest part around it that is there. */
export function positionAt(tree: Tree, path: Path): Position {
  let part = tree;
  let position = tree.at;
  for (const key of path) {
    if (typeof key === 'number') {
      // A list of one may be written without the brackets.
      const item = part.kind === 'list' ? part.items[key] : part;
      if (item === undefined) return position;
      part = item;
      position = item.at;
    } else {
      const entry = entryAt(part, key);
      if (entry === undefined) return position;
      part = entry.value;
      position = part.kind === 'scalar' ? part.at : entry.keyAt;
    }
  }
  return position;
}
