import { type Accessor, createSignal, onCleanup, onMount } from 'solid-js';

/** How many items of a scrolled list cannot be seen, and how many of those are marked. */
export type Hidden = {
  readonly above: number;
  readonly below: number;
  readonly markedAbove: number;
  readonly markedBelow: number;
};

const nothingHidden: Hidden = { above: 0, below: 0, markedAbove: 0, markedBelow: 0 };

/**
 * Follows what of a list is out of sight. Items carry `data-item`, and `data-marked="yes"` when
 * they must not be forgotten. An item counts as hidden when less than half of it can be seen.
 */
export function createHidden(scroller: Accessor<HTMLElement | undefined>): Accessor<Hidden> {
  const [hidden, setHidden] = createSignal(nothingHidden, { equals: isSame });
  let frame = 0;
  const measure = () => {
    const element = scroller();
    if (element) setHidden(hiddenIn(element));
  };
  const soon = () => {
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(measure);
  };
  onMount(() => {
    const element = scroller();
    if (!element) return;
    const changes = new MutationObserver(soon);
    const attributeFilter = ['data-item', 'data-marked'];
    changes.observe(element, {
      childList: true,
      subtree: true,
      attributes: true,
      attributeFilter,
    });
    const size = new ResizeObserver(soon);
    size.observe(element);
    element.addEventListener('scroll', soon, { passive: true });
    soon();
    onCleanup(() => {
      cancelAnimationFrame(frame);
      changes.disconnect();
      size.disconnect();
      element.removeEventListener('scroll', soon);
    });
  });
  return hidden;
}

function hiddenIn(scroller: HTMLElement): Hidden {
  const view = scroller.getBoundingClientRect();
  const count = { ...nothingHidden };
  for (const item of scroller.querySelectorAll('[data-item]')) {
    const { top, bottom } = item.getBoundingClientRect();
    const middle = (top + bottom) / 2;
    const isMarked = item.getAttribute('data-marked') === 'yes' ? 1 : 0;
    if (middle > view.bottom) {
      count.below += 1;
      count.markedBelow += isMarked;
    } else if (middle < view.top) {
      count.above += 1;
      count.markedAbove += isMarked;
    }
  }
  return count;
}

const isSame = (one: Hidden, other: Hidden): boolean =>
  one.above === other.above &&
  one.below === other.below &&
  one.markedAbove === other.markedAbove &&
  one.markedBelow === other.markedBelow;
