/**
 * A page as plain data. The page on the screen, the one on paper and the file are made from the same tree, so that
 * they cannot say different things.
 */
export type Branch = {
  readonly tag: string;
  readonly attrs: Readonly<Record<string, string>>;
  readonly children: readonly Leaf[];
};
export type Leaf = Branch | string;

/** What may stand where a child is expected; `undefined` stands for nothing. */
export type Child = Leaf | number | undefined | readonly (Leaf | undefined)[];

/** One element. Tags and names of attributes come from our own code only; text may come from anybody. */
export function el(
  tag: string,
  attrs: Readonly<Record<string, string | number | undefined>>,
  ...children: readonly Child[]
): Branch {
  const kept = Object.entries(attrs).flatMap(([name, value]) =>
    value === undefined ? [] : [[name, String(value)] as const],
  );
  return { tag, attrs: Object.fromEntries(kept), children: children.flatMap(leaves) };
}

function leaves(child: Child): readonly Leaf[] {
  if (child === undefined) return [];
  if (typeof child === 'string') return [child];
  if (typeof child === 'number') return [String(child)];
  return 'tag' in child ? [child] : child.filter((one) => one !== undefined);
}

/** A table with a head that is repeated on every printed page. The first cell of a row names it. */
export function table(
  name: string,
  columns: readonly string[],
  rows: readonly (readonly Child[])[],
): Branch {
  const body = rows.map(([first, ...cells]) =>
    el('tr', {}, el('th', { scope: 'row' }, first), ...cells.map((cell) => el('td', {}, cell))),
  );
  return el(
    'table',
    { class: name },
    el('thead', {}, el('tr', {}, ...columns.map((column) => el('th', { scope: 'col' }, column)))),
    el('tbody', {}, body),
  );
}

/** A number or a code, in the type of digits. */
export const digits = (words: Child): Branch => el('span', { class: 'digits-type' }, words);

/** A name that may run from right to left keeps its own direction, and does not turn what stands beside it. */
export const person = (name: string): Branch => el('bdi', {}, name);
