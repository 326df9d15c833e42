import { type Issue, listed, quoted } from './issues.ts';
import { tell } from './reader.ts';
import { nearest } from './spelling.ts';
import { type Entry, entryAt, type MapTree, type Tree, valueAt, withValue } from './tree.ts';

/**
 * Writes what the sheet's `opens` says into the lines it names, so that a tray or a port that is shared can be opened
 * by one sheet and only kept ready by another. What is wrong with a number is told where `opens` says it.
 *
 * Units: pieces.
 */
export function withOpenings(tree: Tree, issues: Issue[]): Tree {
  const opens = valueAt(tree, 'opens');
  const sections = valueAt(tree, 'sections');
  if (opens?.kind !== 'map' || sections?.kind !== 'map' || tree.kind !== 'map') return tree;
  let next = sections;
  for (const entry of opens.entries) next = opened(next, entry, issues);
  return withValue(tree, 'sections', sections.at, next);
}

function opened(sections: MapTree, entry: Entry, issues: Issue[]): MapTree {
  const field = `opens.${entry.key.slice(0, 60)}`;
  // A number that does not fit is told where `opens` is read.
  if (!isPieces(entry.value)) return sections;
  for (const section of sections.entries) {
    const lines = valueAt(section.value, 'lines');
    const line = valueAt(lines, entry.key);
    if (line?.kind !== 'map' || lines?.kind !== 'map' || section.value.kind !== 'map') continue;
    const said = entryAt(line, 'opening');
    if (said) {
      const found = `the opening in line ${said.keyAt.line} of ${said.keyAt.file}`;
      tell(issues, 'said-twice', entry.keyAt, field, { found, expected: 'be said once' });
      return sections;
    }
    const filled = withValue(line, 'opening', entry.keyAt, entry.value);
    const inner = withValue(lines, entry.key, line.at, filled);
    const outer = withValue(section.value, 'lines', lines.at, inner);
    return withValue(sections, section.key, section.keyAt, outer);
  }
  const known = sections.entries.flatMap(({ value }) => keysOf(valueAt(value, 'lines')));
  if (known.length > 0)
    tell(issues, 'unknown-line', entry.keyAt, field, {
      found: quoted(entry.key.slice(0, 60)),
      expected: listed(known),
      meant: nearest(entry.key, known),
    });
  return sections;
}

const isPieces = (tree: Tree): boolean =>
  tree.kind === 'scalar' && typeof tree.value === 'number' && tree.value >= 0 && tree.value <= 999;

const keysOf = (tree: Tree | undefined): readonly string[] =>
  tree?.kind === 'map' ? tree.entries.map(({ key }) => key) : [];
