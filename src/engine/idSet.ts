/**
 * The ids of all commands that were recorded. The latest wait in a chain; when it is full, they go into buckets
 * together, so that the buckets are copied once for many ids. Adding costs the same after 20 ids and after 20,000.
 */
export type IdSet = {
  /** By the hash of the id. */
  readonly buckets: readonly (Chain | undefined)[];
  /** Not in a bucket yet, newest first. */
  readonly waiting: Chain | undefined;
  readonly waitingCount: number;
  readonly latest: string | undefined;
};
type Chain = { readonly id: string; readonly hash: number; readonly before: Chain | undefined };

const bucketBits = 10;
const waitingMost = 256;
const hashedLetters = 8;

export const noIds: IdSet = {
  buckets: Array.from({ length: 1 << bucketBits }, () => undefined),
  waiting: undefined,
  waitingCount: 0,
  latest: undefined,
};

export function hasId(ids: IdSet, id: string): boolean {
  const hash = hashOf(id);
  return isIn(ids.waiting, id, hash) || isIn(ids.buckets[bucketOf(hash)], id, hash);
}

/** The set with this id; the same set where it is the latest already, as with every event of one command. */
export function withId(ids: IdSet, id: string): IdSet {
  if (ids.latest === id) return ids;
  const { buckets } = ids;
  const waiting = { id, hash: hashOf(id), before: ids.waiting };
  const waitingCount = ids.waitingCount + 1;
  if (waitingCount < waitingMost) return { buckets, waiting, waitingCount, latest: id };
  return { buckets: filled(buckets, waiting), waiting: undefined, waitingCount: 0, latest: id };
}

function isIn(chain: Chain | undefined, id: string, hash: number): boolean {
  for (let at = chain; at !== undefined; at = at.before)
    if (at.hash === hash && at.id === id) return true;
  return false;
}

function filled(buckets: IdSet['buckets'], waiting: Chain): IdSet['buckets'] {
  const next = buckets.slice();
  for (let at: Chain | undefined = waiting; at !== undefined; at = at.before) {
    const { id, hash } = at;
    const bucket = bucketOf(hash);
    next[bucket] = { id, hash, before: next[bucket] };
  }
  return next;
}

/**
 * Ids differ at their end: the last letters are enough to spread them. The upper bits of a product with the golden
 * ratio lie far apart for ids that count up; 30 of them are kept, which need no box.
 */
function hashOf(id: string): number {
  let hash = id.length;
  for (let i = Math.max(0, id.length - hashedLetters); i < id.length; i++)
    hash = (Math.imul(hash, 31) + id.charCodeAt(i)) | 0;
  return Math.imul(hash, 0x9e37_79b1) >>> 2;
}

const bucketOf = (hash: number): number => hash >>> (30 - bucketBits);
