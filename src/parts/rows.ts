import { createMemo, createSignal, type Signal, untrack } from 'solid-js';

/**
 * A list as ids and a look-up, so that `For` over the ids keeps the element of a row while what the row shows changes.
 * A row tells those who read it only when one of its fields is another: with each entry there are new rows, most of
 * them as they were.
 */
export function createRows<Row extends { readonly id: string }>(list: () => readonly Row[]) {
  const rows = new Map<string, Signal<Row>>();
  const ids = createMemo(
    () => {
      const now = list();
      untrack(() => keep(rows, now));
      return now.map(({ id }) => id);
    },
    [],
    { equals: isSameList },
  );
  return { ids, row: (id: string): Row | undefined => rows.get(id)?.[0]() };
}

function keep<Row extends { readonly id: string }>(
  rows: Map<string, Signal<Row>>,
  now: readonly Row[],
): void {
  for (const row of now) {
    const known = rows.get(row.id);
    if (known) known[1](() => row);
    else rows.set(row.id, createSignal(row, { equals: sameFields }));
  }
  if (rows.size === now.length) return;
  const left = new Set(now.map(({ id }) => id));
  for (const id of rows.keys()) if (!left.has(id)) rows.delete(id);
}

/** The same values under the same names. What is inside of a value is not looked at. */
export function sameFields<T extends object>(one: T, other: T): boolean {
  let left = Object.keys(other).length;
  for (const name in one) {
    if (!(name in other) || !Object.is(one[name], other[name])) return false;
    left -= 1;
  }
  return left === 0;
}

const isSameList = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((id, index) => id === other[index]);
