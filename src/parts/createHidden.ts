import { type Accessor, createSignal, onCleanup, onMount } from 'solid-js';

/** How many items of a scrolled list cannot be seen, and how many of those are marked. */
export type Hidden = {
  readonly above: number;
  readonly below: number;
  readonly markedAbove: number;
  readonly markedBelow: number;
  /** It is longer than its room: the scroller's own and, where it has keys below it, theirs. */
  readonly overflows: boolean;
  readonly atTop: boolean;
  readonly atEnd: boolean;
};

const nothingHidden: Hidden = {
  above: 0,
  below: 0,
  markedAbove: 0,
  markedBelow: 0,
  overflows: false,
  atTop: true,
  atEnd: true,
};

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
  const count = { ...nothingHidden, ...endsOf(scroller) };
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

/** A pixel of slack: sizes on the screen are not whole numbers. */
function endsOf(scroller: HTMLElement) {
  const { scrollTop, scrollHeight, clientHeight } = scroller;
  // With its keys the list has less room; whether it needs them is asked of the room without them.
  const keys = scroller.nextElementSibling?.clientHeight ?? 0;
  return {
    overflows: scrollHeight > clientHeight + keys + 1,
    atTop: scrollTop <= 1,
    atEnd: scrollTop + clientHeight >= scrollHeight - 1,
  };
}

const isSame = (one: Hidden, other: Hidden): boolean =>
  one.above === other.above &&
  one.below === other.below &&
  one.markedAbove === other.markedAbove &&
  one.markedBelow === other.markedBelow &&
  one.overflows === other.overflows &&
  one.atTop === other.atTop &&
  one.atEnd === other.atEnd;
