import { For } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import type { Leaf } from './tree.ts';

/** A tree on the screen. Text is set as text. */
export function Tree(props: { readonly leaf: Leaf }) {
  return <>{shown(props.leaf)}</>;
}

function shown(leaf: Leaf) {
  if (typeof leaf === 'string') return leaf;
  return (
    <Dynamic component={leaf.tag} {...leaf.attrs}>
      <For each={leaf.children}>{(child) => <Tree leaf={child} />}</For>
    </Dynamic>
  );
}
