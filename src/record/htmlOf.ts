import type { Leaf } from './tree.ts';

/** A tree as HTML text. Whatever somebody typed stays text. */
export function htmlOf(leaf: Leaf): string {
  if (typeof leaf === 'string') return escaped(leaf);
  const attrs = Object.entries(leaf.attrs).map(([name, value]) => ` ${name}="${escaped(value)}"`);
  const open = `<${leaf.tag}${attrs.join('')}>`;
  return `${open}${leaf.children.map(htmlOf).join('')}</${leaf.tag}>`;
}

const names: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

/** Control characters have no place in HTML; they are shown as what they are: unreadable. */
const escaped = (text: string): string =>
  text
    .replace(/[\p{Cc}\p{Noncharacter_Code_Point}]/gu, (sign) => (/\s/.test(sign) ? ' ' : '\uFFFD'))
    .replace(/[&<>"]/g, (sign) => names[sign] ?? sign);
