import { createMemo } from 'solid-js';

/**
 * A list as ids and a look-up, so that `For` over the ids keeps the element of a row while what the
 * row shows changes.
 */
export function createRows<Row extends { readonly id: string }>(list: () => readonly Row[]) {
  const ids = createMemo(() => list().map((row) => row.id), [], { equals: isSameList });
  const byId = createMemo(() => new Map(list().map((row) => [row.id, row])));
  return { ids, row: (id: string): Row | undefined => byId().get(id) };
}

const isSameList = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((id, index) => id === other[index]);
