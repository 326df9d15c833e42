import { type Issue, listed, quoted } from './issues.ts';
import { tell } from './reader.ts';
import { sharedShape } from './shape.ts';
import { nearest } from './spelling.ts';
import { type Entry, entryAt, type Tree, treeFromText, valueAt, withValue } from './tree.ts';

/** The shared files of a folder, by name, read once for all sheets. */
export type SharedParts = {
  readonly files: ReadonlyMap<string, Tree>;
  readonly issues: readonly Issue[];
};

/** No shared files at all. */
export const noShared: SharedParts = { files: new Map(), issues: [] };

/** Reads shared files and checks each by itself. A shared file takes nothing from others. */
export function readShared(
  texts: readonly { readonly name: string; readonly file: string; readonly text: string }[],
): SharedParts {
  const files = new Map<string, Tree>();
  const issues: Issue[] = [];
  for (const { name, file, text } of texts) {
    const grown = treeFromText(text, file);
    issues.push(...grown.issues);
    const inner = withShared(grown.tree, [], [grown.tree], []);
    sharedShape.read(inner, '', issues);
    const said = valueAt(grown.tree, 'shared');
    if (said?.kind === 'scalar' && said.value !== name)
      tell(issues, 'contradiction', said.at, 'shared', {
        found: String(said.value),
        expected: `the name of the file, ${name}`,
      });
    files.set(name, inner);
  }
  return { files, issues };
}

/** Puts the parts of included files in place of every word `shared`. */
export function withIncludes(tree: Tree, shared: SharedParts, issues: Issue[]): Tree {
  const include = valueAt(tree, 'include');
  const named = include?.kind === 'list' ? include.items : include ? [include] : [];
  const files: Tree[] = [];
  for (const item of named) {
    if (item.kind !== 'scalar' || typeof item.value !== 'string') continue;
    const file = shared.files.get(item.value);
    if (file) files.push(file);
    else
      tell(issues, 'unknown-file', item.at, 'include', {
        found: quoted(item.value.slice(0, 60)),
        expected: listed([...shared.files.keys()]),
        meant: nearest(item.value, [...shared.files.keys()]),
      });
  }
  // With a file unknown, nobody can say what it would have held.
  const isWhole = files.length === named.length;
  return withShared(tree, [], files, isWhole ? issues : []);
}

/** Where shared files keep the parts of a collection that stands at this path, if it can take any. */
function collectionAt([list = '', , inner, ...deeper]: readonly string[]): string | undefined {
  if (inner === undefined) return undefined;
  const isSteps =
    (list === 'checkpoints' && inner === 'steps') || (list === 'closures' && inner === 'look');
  return isSteps && deeper.length === 0 ? 'steps' : undefined;
}
const collections = ['sections', 'checkpoints', 'specimens', 'steps'];
const wholes = ['medicines', 'policy'];

function withShared(
  tree: Tree,
  path: readonly string[],
  files: readonly Tree[],
  issues: Issue[],
): Tree {
  if (tree.kind !== 'map') return tree;
  let result = tree;
  const collection =
    path.length === 1 ? collections.find((one) => one === path[0]) : collectionAt(path);
  for (const entry of tree.entries) {
    const here = [...path, entry.key];
    const isWhole = path.length === 0 && wholes.includes(entry.key);
    const kept = collection ?? (isWhole ? '' : undefined);
    const value =
      kept !== undefined && isSharedWord(entry.value)
        ? taken(entry, kept, here.join('.'), files, issues)
        : entry.value;
    // Four levels hold every collection: closures, abdomen, look, step.
    const inner = path.length < 4 ? withShared(value, here, files, issues) : value;
    if (inner !== entry.value) result = withValue(result, entry.key, entry.keyAt, inner);
  }
  return result;
}

const isSharedWord = (tree: Tree): boolean => tree.kind === 'scalar' && tree.value === 'shared';

/** The part that a shared file has under the same name. */
function taken(
  { key, value }: Entry,
  collection: string,
  field: string,
  files: readonly Tree[],
  issues: Issue[],
): Tree {
  const places = collection === '' ? files : files.map((file) => valueAt(file, collection));
  const found = places.flatMap((place) => entryAt(place, key) ?? []);
  const [first] = found;
  if (first && !isSharedWord(first.value)) return first.value;
  const known = places.flatMap((place) =>
    place?.kind === 'map' ? place.entries.map((entry) => entry.key) : [],
  );
  tell(issues, 'unknown-shared', value.at, field, {
    found: quoted(key.slice(0, 60)),
    expected: collection !== '' && known.length > 0 ? listed(known) : 'nothing of the kind',
    meant: nearest(key, known),
  });
  return value;
}
