/**
 * The ids of all commands that were recorded: a tree of three levels with 32 branches each, so that a new version
 * copies 32 places a level and a leaf, and shares everything else.
 */
type Leaf = readonly string[];
type Twig = readonly Leaf[];
type Branch = readonly Twig[];
export type IdSet = readonly Branch[];

const bits = 5;
const width = 1 << bits;
const mask = width - 1;
const emptyLeaf: Leaf = [];
const emptyTwig: Twig = new Array<Leaf>(width).fill(emptyLeaf);
const emptyBranch: Branch = new Array<Twig>(width).fill(emptyTwig);

export const noIds: IdSet = new Array<Branch>(width).fill(emptyBranch);

export function hasId(ids: IdSet, id: string): boolean {
  const hash = hashOf(id);
  const twig = ids[hash & mask]?.[(hash >> bits) & mask];
  return twig?.[(hash >> (2 * bits)) & mask]?.includes(id) ?? false;
}

/** The set with this id; the same set where it is in it already. */
export function withId(ids: IdSet, id: string): IdSet {
  const hash = hashOf(id);
  const branch = ids[hash & mask] ?? emptyBranch;
  const twig = branch[(hash >> bits) & mask] ?? emptyTwig;
  const leaf = twig[(hash >> (2 * bits)) & mask] ?? emptyLeaf;
  if (leaf.includes(id)) return ids;
  const nextLeaf = leaf.slice();
  nextLeaf.push(id);
  const nextTwig = twig.slice();
  nextTwig[(hash >> (2 * bits)) & mask] = nextLeaf;
  const nextBranch = branch.slice();
  nextBranch[(hash >> bits) & mask] = nextTwig;
  const next = ids.slice();
  next[hash & mask] = nextBranch;
  return next;
}

/** Ids differ at their end: the last letters are enough to spread them over 32,768 leaves. */
function hashOf(id: string): number {
  let hash = id.length;
  for (let i = Math.max(0, id.length - 12); i < id.length; i++)
    hash = (Math.imul(hash, 31) + id.charCodeAt(i)) | 0;
  return hash ^ (hash >>> (3 * bits));
}
