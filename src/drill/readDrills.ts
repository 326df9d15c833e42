import { isMap, isNode, isPair, isScalar, isSeq, LineCounter, parseAllDocuments } from 'yaml';
import type { Path } from './problems.ts';

/** One document of a drill file, as plain data, and the line on which a part of it stands. */
export type DrillDocument = { readonly data: unknown; readonly lineOf: (path: Path) => number };

/** A mistake in a file. Units: `line` counts from 1. */
export type FileIssue = { readonly line: number; readonly sentence: string };

export type ReadDrills =
  | { readonly ok: true; readonly documents: readonly DrillDocument[] }
  | { readonly ok: false; readonly issues: readonly FileIssue[] };

const lettersMax = 2_000_000;

/** Reads YAML, one or many documents. */
export function readDrills(text: string): ReadDrills {
  if (text.length > lettersMax)
    return {
      ok: false,
      issues: [{ line: 1, sentence: `It is longer than ${lettersMax} letters.` }],
    };
  const lines = new LineCounter();
  const parsed = parseAllDocuments(text, {
    lineCounter: lines,
    prettyErrors: false,
    logLevel: 'error',
  });
  const issues = [...parsed].flatMap((document) =>
    document.errors.map((error) => ({
      line: lines.linePos(error.pos[0]).line,
      sentence: `It is not YAML: ${error.message}`,
    })),
  );
  if (issues.length > 0) return { ok: false, issues };
  const documents = [...parsed].map((document) => ({
    data: document.toJS({ maxAliasCount: 1000 }),
    lineOf: (path: Path) => lines.linePos(offsetOf(document.contents, path)).line,
  }));
  const isEmpty = documents.every(({ data }) => data === null);
  if (isEmpty) return { ok: false, issues: [{ line: 1, sentence: 'There is no drill in it.' }] };
  return { ok: true, documents: documents.filter(({ data }) => data !== null) };
}

/** Where the last known part of a path begins: at its key, or at the item itself. */
function offsetOf(top: unknown, path: Path): number {
  let node = top;
  let offset = isNode(top) ? (top.range?.[0] ?? 0) : 0;
  for (const key of path) {
    const item: unknown = isMap(node)
      ? node.items.find((pair) => isScalar(pair.key) && String(pair.key.value) === String(key))
      : isSeq(node)
        ? node.items[Number(key)]
        : undefined;
    const begins = isPair(item) ? item.key : item;
    if (!isNode(begins)) return offset;
    offset = begins.range?.[0] ?? offset;
    node = isPair(item) ? item.value : item;
  }
  return offset;
}
