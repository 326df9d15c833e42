/** The ids of all commands that were recorded, in small buckets so that a new version copies one bucket. */
export type IdSet = readonly (readonly string[])[];

const buckets = 256;

export const noIds: IdSet = [];

export const hasId = (ids: IdSet, id: string): boolean => ids[bucketOf(id)]?.includes(id) ?? false;

export function withId(ids: IdSet, id: string): IdSet {
  const next =
    ids.length === buckets ? ids.slice() : new Array<readonly string[]>(buckets).fill([]);
  const bucket = bucketOf(id);
  next[bucket] = [...(next[bucket] ?? []), id];
  return next;
}

function bucketOf(id: string): number {
  let hash = 0;
  for (let i = 0; i < id.length; i++) hash = (hash * 31 + id.charCodeAt(i)) & 0xffff;
  return hash % buckets;
}
