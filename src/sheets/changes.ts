import type { LocalChange } from '#engine/sheet.ts';
import { type Issue, listed, quoted } from './issues.ts';
import { below, tell } from './reader.ts';
import type { SheetWritten } from './shape.ts';
import { nearest } from './spelling.ts';
import { inWords, type MapTree, type Tree, valueAt, withValue } from './tree.ts';
import { whoItems } from './words.ts';

/** A sheet with its local changes applied, and what each changed, for the printed record. */
export type Changed = {
  readonly tree: Tree;
  readonly changes: readonly LocalChange[];
  /** Items of the WHO list that a change leaves out. */
  readonly leftOut: ReadonlySet<number>;
};

type ChangeWritten = NonNullable<SheetWritten['changes']>[number];

/**
 * Applies the sheet's `changes` to its tree, before it is checked, so that a changed value is checked as if it
 * had been written in its place, and a mistake in it is told where the change stands.
 */
export function withChanges(
  tree: Tree,
  written: readonly ChangeWritten[],
  issues: Issue[],
): Changed {
  let current = tree;
  const changes: LocalChange[] = [];
  const leftOut = new Set<number>();
  written.forEach((change, index) => {
    const field = below('changes', index + 1);
    const at = valueAt(tree, 'changes');
    const item = at?.kind === 'list' ? at.items[index] : at;
    if (item?.kind !== 'map') return;
    const one = applied(current, { change, item, field, issues });
    current = one.tree;
    changes.push(...one.changes);
    for (const number of one.leftOut) leftOut.add(number);
  });
  return { tree: current, changes, leftOut };
}

type OneChange = Omit<Changed, 'leftOut'> & { readonly leftOut: readonly number[] };
type Applying = {
  readonly change: ChangeWritten;
  readonly item: MapTree;
  readonly field: string;
  readonly issues: Issue[];
};

function applied(tree: Tree, applying: Applying): OneChange {
  const { change, item, field, issues } = applying;
  const items = change['who-items'];
  if (items !== undefined) {
    const changes = items.map((number) => {
      const what = `WHO item ${number}, ${whoItems[number - 1]?.words ?? ''}`;
      return said(change, what, 'asked', 'left out');
    });
    return { tree, changes, leftOut: items };
  }
  const path = pathOf(tree, change);
  const nothing: OneChange = { tree, changes: [], leftOut: [] };
  if (path === undefined) {
    tell(issues, 'wrong-kind', item.at, field, {
      found: 'a change of nothing',
      expected: 'line, step (with checkpoint or closure), medicine, policy or who-items',
    });
    return nothing;
  }
  const added = valueAt(item, change.step === undefined ? 'new-line' : 'new-step');
  if (added !== undefined) return withNew(tree, path, added, applying);
  const target = subtree(tree, path);
  if (target === undefined) {
    const known = knownBeside(tree, path);
    tell(issues, 'unknown-changed', item.at, field, {
      found: quoted(path.at(-1) ?? ''),
      expected: known.length > 0 ? listed(known) : 'nothing of the kind',
      meant: nearest(path.at(-1) ?? '', known),
    });
    return nothing;
  }
  const what = path.filter((key) => !between.includes(key)).join(' ');
  if (change.drop === true && (change.step ?? change.line) !== undefined) {
    const number = valueAt(target, 'who-item');
    const isNumber = number?.kind === 'scalar' && typeof number.value === 'number';
    return {
      tree: replaced(tree, path, undefined),
      changes: [said(change, what, change.step === undefined ? 'listed' : 'asked', 'left out')],
      leftOut: isNumber ? [Number(number.value)] : [],
    };
  }
  return changed(tree, path, target, what, applying);
}

/** A line or step that the sheet has not yet, at the end of those that it stands among. */
function withNew(
  tree: Tree,
  path: readonly string[],
  added: Tree,
  { change, item, field, issues }: Applying,
): OneChange {
  const nothing: OneChange = { tree, changes: [], leftOut: [] };
  const key = path.at(-1) ?? '';
  const around = path.slice(0, -1);
  const among = subtree(tree, around);
  if (change.line !== undefined && change.section === undefined) {
    const expected = 'the section that the new line stands in';
    tell(issues, 'missing', item.at, below(field, 'section'), { found: 'missing', expected });
    return nothing;
  }
  if (among === undefined) {
    const known = keysOf(subtree(tree, around.slice(0, -2)));
    tell(issues, 'unknown-changed', item.at, field, {
      found: quoted(around.at(-2) ?? ''),
      expected: known.length > 0 ? listed(known) : 'nothing of the kind',
      meant: nearest(around.at(-2) ?? '', known),
    });
    return nothing;
  }
  if (valueAt(among, key) !== undefined) {
    tell(issues, 'said-twice', item.at, field, {
      found: `the ${quoted(key)} that the sheet has`,
      expected: 'have a short name of its own',
    });
    return nothing;
  }
  const next = among.kind === 'map' ? withValue(among, key, added.at, added) : among;
  const what = path.filter((part) => !between.includes(part)).join(' ');
  const name = plain(valueAt(added, change.step === undefined ? 'name' : 'ask'));
  return {
    tree: replaced(tree, around, next),
    changes: [said(change, what, 'not there', name)],
    leftOut: [],
  };
}

const between = ['sections', 'lines', 'steps', 'look', 'checkpoints', 'closures', 'medicines'];

/** New values for some fields of what stands at the path; for a policy number, the number itself. */
function changed(
  tree: Tree,
  path: readonly string[],
  target: Tree,
  what: string,
  { change, item, field, issues }: Applying,
): OneChange {
  const isPolicy = change.policy !== undefined;
  const key = isPolicy ? 'to' : 'set';
  const value = valueAt(item, key);
  if (value === undefined || (!isPolicy && (value.kind !== 'map' || value.entries.length === 0))) {
    const expected =
      change.step === undefined ? 'what is new' : 'what is new, or drop: yes in its place';
    tell(issues, 'missing', item.at, below(field, key), { found: 'missing', expected });
    return { tree, changes: [], leftOut: [] };
  }
  if (isPolicy) {
    const changes = [said(change, what, plain(target), plain(value))];
    return { tree: replaced(tree, path, value), changes, leftOut: [] };
  }
  // Any other word in `set` is told where the change is read.
  const entries =
    value.kind === 'map' ? value.entries.filter(({ key }) => isSettable(change, key)) : [];
  const changes = entries.map((entry) =>
    said(change, `${what}: ${entry.key}`, plain(valueAt(target, entry.key)), plain(entry.value)),
  );
  const next = entries.reduce<Tree>(
    (part, entry) =>
      part.kind === 'map' ? withValue(part, entry.key, entry.keyAt, entry.value) : part,
    target,
  );
  return { tree: replaced(tree, path, next), changes, leftOut: [] };
}

const isSettable = (change: ChangeWritten, key: string): boolean =>
  change.set !== undefined && Object.hasOwn(change.set, key);

const said = (change: ChangeWritten, what: string, from: string, to: string): LocalChange => ({
  what,
  from,
  to,
  reason: change.reason,
  approvedBy: change['approved-by'],
  approvedOn: change['approved-on'],
});

const plain = (tree: Tree | undefined): string => {
  if (tree === undefined) return 'not said';
  return tree.kind === 'scalar' ? String(tree.value) : inWords(tree);
};

/** Where in the tree the change points. */
function pathOf(tree: Tree, change: ChangeWritten): readonly string[] | undefined {
  if (change.line !== undefined) {
    const section = change.section ?? sectionOf(tree, change.line);
    return ['sections', section, 'lines', change.line];
  }
  if (change.medicine !== undefined) return ['medicines', change.medicine];
  if (change.policy !== undefined) return ['policy', change.policy];
  if (change.step === undefined) return undefined;
  if (change.checkpoint !== undefined)
    return ['checkpoints', change.checkpoint, 'steps', change.step];
  if (change.closure !== undefined) return ['closures', change.closure, 'look', change.step];
  return undefined;
}

function sectionOf(tree: Tree, line: string): string {
  const sections = valueAt(tree, 'sections');
  const entries = sections?.kind === 'map' ? sections.entries : [];
  const holds = entries.find(({ value }) => valueAt(valueAt(value, 'lines'), line) !== undefined);
  return holds?.key ?? '';
}

const subtree = (tree: Tree, path: readonly string[]): Tree | undefined =>
  path.reduce<Tree | undefined>((part, key) => valueAt(part, key), tree);

/** What could have been meant: the names that stand where the path ends. */
function knownBeside(tree: Tree, path: readonly string[]): readonly string[] {
  if (path[0] === 'sections') {
    const sections = valueAt(tree, 'sections');
    return sections?.kind === 'map'
      ? sections.entries.flatMap(({ value }) => keysOf(valueAt(value, 'lines')))
      : [];
  }
  return keysOf(subtree(tree, path.slice(0, -1)));
}

const keysOf = (tree: Tree | undefined): readonly string[] =>
  tree?.kind === 'map' ? tree.entries.map(({ key }) => key) : [];

/** The tree with another part at the path, or without it. */
function replaced(tree: Tree, path: readonly string[], part: Tree | undefined): Tree {
  const [key, ...rest] = path;
  if (key === undefined || tree.kind !== 'map') return part ?? tree;
  const inner = valueAt(tree, key);
  if (inner === undefined) return tree;
  if (rest.length === 0 && part === undefined)
    return { ...tree, entries: tree.entries.filter((entry) => entry.key !== key) };
  return withValue(tree, key, inner.at, replaced(inner, rest, part));
}
