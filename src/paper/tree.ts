/** A printed form as data, so that one layout becomes text for a file and elements for the page. */
export type Leaf = Element | string;
export type Element = {
  readonly tag: Tag;
  readonly class?: string;
  readonly colspan?: number;
  readonly children: readonly Leaf[];
};
export type Tag =
  | 'article'
  | 'section'
  | 'header'
  | 'footer'
  | 'h1'
  | 'h2'
  | 'h3'
  | 'p'
  | 'div'
  | 'span'
  | 'strong'
  | 'small'
  | 'ul'
  | 'li'
  | 'table'
  | 'thead'
  | 'tbody'
  | 'tr'
  | 'th'
  | 'td';

/** What may stand inside: nothing is left out by `false` and `undefined`, so that a part can be conditional. */
export type Inner = Leaf | false | undefined;

/** Makes an element. `tag.class` names both. */
export function el(tagAndClass: Tag | `${Tag}.${string}`, ...children: readonly Inner[]): Element {
  const [tag = 'div', name] = tagAndClass.split('.');
  return {
    tag: tag as Tag, // the type of the words before the dot
    ...(name === undefined ? {} : { class: `paper-${name}` }),
    children: children.flatMap((child) =>
      child === false || child === undefined || child === '' ? [] : [child],
    ),
  };
}

/** A cell over several columns. */
export const across = (cell: Element, colspan: number): Element => ({ ...cell, colspan });

/** A table with a head that is repeated on each page. */
export const table = (name: string, head: readonly string[], rows: readonly Element[]): Element =>
  el(
    `table.${name}`,
    el('thead', el('tr', ...head.map((words) => el('th', words)))),
    el('tbody', ...rows),
  );

export const row = (...cells: readonly Element[]): Element => el('tr', ...cells);
export const cell = (...children: readonly Inner[]): Element => el('td', ...children);

/** A box to tick, ticked or not. */
export const box = (isTicked = false): Element => el(isTicked ? 'span.tick' : 'span.box');

/** A box with the words beside it, kept on one line. */
export const choice = (words: string, isTicked = false): Element =>
  el('span.choice', box(isTicked), words);

/** A place to write in a sentence, with what is known already. */
export const blank = (width: 'short' | 'middle' | 'long', known = ''): Element =>
  el(`span.blank-${width}`, known);

/** A place to write under its name, in a grid. */
export const field = (name: string, width: 'short' | 'middle' | 'long', known = ''): Element =>
  el(`div.field-${width}`, el('span.field-name', name), el('span.field-known', known));

/** The same as text of HTML. Every letter that means something there is written so that it means itself. */
export function htmlOf(leaf: Leaf): string {
  if (typeof leaf === 'string') return escaped(leaf);
  const { tag, colspan, children } = leaf;
  const name = leaf.class === undefined ? '' : ` class="${escaped(leaf.class)}"`;
  const over = colspan === undefined ? '' : ` colspan="${colspan}"`;
  return `<${tag}${name}${over}>${children.map(htmlOf).join('')}</${tag}>`;
}

const escaped = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');

/** All words in a tree, in order, for tests and for readers aloud. */
export const wordsOf = (leaf: Leaf): string =>
  typeof leaf === 'string' ? leaf : leaf.children.map(wordsOf).join(' ');
