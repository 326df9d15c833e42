import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  type Pair,
  parseDocument,
} from 'yaml';
import { type Issue, issueOf, type Position, quoted } from './issues.ts';

/** A sheet's text as plain data, of which every part knows where it stands. */
export type Tree =
  | { readonly kind: 'scalar'; readonly at: Position; readonly value: Scalar }
  | { readonly kind: 'list'; readonly at: Position; readonly items: readonly Tree[] }
  | MapTree;
export type MapTree = {
  readonly kind: 'map';
  readonly at: Position;
  readonly entries: readonly Entry[];
};
export type Entry = { readonly key: string; readonly keyAt: Position; readonly value: Tree };
export type Scalar = string | number | boolean | null;

/** A tree and what was wrong with its text. */
export type Grown = { readonly tree: Tree; readonly issues: readonly Issue[] };

/** Whatever is larger than this is not a sheet. Units: letters; parts, where a repeated part counts again; levels. */
export const limits = { letters: 100_000, parts: 20_000, levels: 16, issues: 200 } as const;

type Growing = {
  readonly file: string;
  readonly document: Document;
  readonly lines: LineCounter;
  readonly issues: Issue[];
  parts: number;
};

/** Reads YAML. The tree holds what could be read even where there are mistakes, so that all are told. */
export function treeFromText(text: string, file: string): Grown {
  const start: Position = { file, line: 1, column: 1 };
  if (text.length > limits.letters)
    return onlyTooLarge(
      start,
      `${text.length} letters long`,
      `at most ${limits.letters} letters long`,
    );
  const lines = new LineCounter();
  let document: Document;
  try {
    document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: false });
  } catch (error) {
    // The reader gives up by throwing when brackets are nested by the thousand.
    const found = error instanceof Error ? error.message : 'unreadable';
    return onlyTooLarge(
      start,
      `nested too deep to read (${found})`,
      `at most ${limits.levels} levels deep`,
    );
  }
  const issues = document.errors.map((error) => {
    const { line, col } = lines.linePos(error.pos[0]);
    const at = { file, line: Math.max(1, line), column: Math.max(1, col) };
    const [first = ''] = error.message.split('\n');
    const found = first.replace(/[.:]$/, '').slice(0, 160);
    return issueOf({ code: 'not-yaml', at, field: 'the text', found, expected: 'YAML' });
  });
  const growing: Growing = { file, document, lines, issues, parts: 0 };
  const tree = grow(growing, document.contents, start, []);
  return { tree, issues: growing.issues.slice(0, limits.issues) };
}

/** Reads plain data, such as a sheet written inside a drill. Positions are that of `at` throughout. */
export function treeFromData(data: unknown, at: Position): Grown {
  const issues: Issue[] = [];
  let parts = 0;
  const growData = (value: unknown, level: number): Tree => {
    parts += 1;
    const over = tooLarge(parts, level);
    if (over) {
      if (issues.length === 0) issues.push(issueOf({ ...over, at, field: 'the sheet' }));
      return empty(at);
    }
    if (Array.isArray(value))
      return { kind: 'list', at, items: value.map((item) => growData(item, level + 1)) };
    if (typeof value === 'object' && value !== null) {
      const entries = Object.entries(value).map(([key, one]) => ({
        key,
        keyAt: at,
        value: growData(one, level + 1),
      }));
      return { kind: 'map', at, entries };
    }
    return { kind: 'scalar', at, value: isScalarValue(value) ? value : String(value) };
  };
  return { tree: growData(data, 0), issues };
}

const isScalarValue = (value: unknown): value is Scalar =>
  value === null || ['string', 'number', 'boolean'].includes(typeof value);

const empty = (at: Position): MapTree => ({ kind: 'map', at, entries: [] });

function onlyTooLarge(at: Position, found: string, expected: string): Grown {
  const issue = issueOf({ code: 'too-large', at, field: 'the text', found, expected });
  return { tree: empty(at), issues: [issue] };
}

function tooLarge(parts: number, level: number) {
  if (parts > limits.parts)
    return {
      code: 'too-large',
      found: `more than ${limits.parts} parts large`,
      expected: `at most ${limits.parts} parts large`,
    } as const;
  if (level > limits.levels)
    return {
      code: 'too-deep',
      found: `deeper than ${limits.levels} levels`,
      expected: `at most ${limits.levels} levels deep`,
    } as const;
  return undefined;
}

function grow(growing: Growing, node: unknown, from: Position, path: readonly string[]): Tree {
  growing.parts += 1;
  const over = tooLarge(growing.parts, path.length);
  if (over) {
    // Told once: everything after the first is the same mistake.
    if (!growing.issues.some((issue) => issue.code === over.code))
      growing.issues.push(issueOf({ ...over, at: from, field: 'the text' }));
    return empty(from);
  }
  if (isAlias(node)) {
    const meant = node.resolve(growing.document);
    // A part that holds itself goes on until it is too deep, and is told then.
    return grow(growing, meant, positionOf(growing, node, from), [...path, '']);
  }
  if (isMap(node)) {
    const entries = node.items.flatMap((pair) => entryOf(growing, pair, from, path));
    return { kind: 'map', at: from, entries: withoutTwins(growing, entries, path) };
  }
  if (isSeq(node)) {
    const items = node.items.map((item, index) =>
      grow(growing, item, positionOf(growing, item, from), [...path, String(index + 1)]),
    );
    return { kind: 'list', at: from, items };
  }
  const value = isScalar(node) ? node.value : null;
  return { kind: 'scalar', at: from, value: isScalarValue(value) ? value : String(value) };
}

/** A list or map is said to stand at its key, since its own text may begin on a later line. */
function entryOf(
  growing: Growing,
  pair: Pair<unknown, unknown>,
  from: Position,
  path: readonly string[],
): readonly Entry[] {
  const keyAt = positionOf(growing, pair.key, from);
  if (!isScalar(pair.key)) {
    const expected = 'a word before the colon';
    growing.issues.push(
      issueOf({ code: 'wrong-kind', at: keyAt, field: 'a key', found: 'not a word', expected }),
    );
    return [];
  }
  const isPlain = isScalar(pair.value) || isAlias(pair.value);
  const at = isPlain ? positionOf(growing, pair.value, keyAt) : keyAt;
  const key = String(pair.key.value);
  return [{ key, keyAt, value: grow(growing, pair.value, at, [...path, key]) }];
}

/** The same key twice is a mistake of the text; the first one is kept. */
function withoutTwins(
  growing: Growing,
  entries: readonly Entry[],
  path: readonly string[],
): readonly Entry[] {
  const known = new Map<string, Entry>();
  for (const entry of entries) {
    const first = known.get(entry.key);
    if (first === undefined) known.set(entry.key, entry);
    else
      growing.issues.push(
        issueOf({
          code: 'said-twice',
          at: entry.keyAt,
          field: [...path, entry.key].filter((part) => part !== '').join('.'),
          found: `line ${first.keyAt.line}`,
          expected: 'be said once',
        }),
      );
  }
  return [...known.values()];
}

function positionOf(growing: Growing, node: unknown, otherwise: Position): Position {
  const start = rangeStart(node);
  if (start === undefined) return otherwise;
  const { line, col } = growing.lines.linePos(start);
  return line === 0 ? otherwise : { file: growing.file, line, column: col };
}

function rangeStart(node: unknown): number | undefined {
  if (!isScalar(node) && !isMap(node) && !isSeq(node) && !isAlias(node)) return undefined;
  const { range }: Pick<Node, 'range'> = node;
  return range?.[0];
}

/** The value of a key, if the tree is a map that has it. */
export const entryAt = (tree: Tree | undefined, key: string): Entry | undefined =>
  tree?.kind === 'map' ? tree.entries.find((entry) => entry.key === key) : undefined;

/** The value under a key, if the tree is a map that has it. */
export const valueAt = (tree: Tree | undefined, key: string): Tree | undefined =>
  entryAt(tree, key)?.value;

/** The map with one value put in place of another, or added at its end. */
export function withValue(map: MapTree, key: string, keyAt: Position, value: Tree): MapTree {
  const isKnown = map.entries.some((entry) => entry.key === key);
  const entries = isKnown
    ? map.entries.map((entry) => (entry.key === key ? { ...entry, value } : entry))
    : [...map.entries, { key, keyAt, value }];
  return { ...map, entries };
}

/** What stands there, in words: "ten" in quotes, 12, a list of 3, a group of 2. */
export function inWords(tree: Tree): string {
  if (tree.kind === 'list') return `a list of ${tree.items.length}`;
  if (tree.kind === 'map') return `a group of ${tree.entries.length}`;
  if (tree.value === null) return 'empty';
  return typeof tree.value === 'string' ? quoted(tree.value.slice(0, 60)) : String(tree.value);
}
