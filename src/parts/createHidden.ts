import { type Accessor, createSignal, onCleanup, onMount } from 'solid-js';
import { headOf } from './turnPage.ts';

/** How many items of a scrolled list cannot be seen, and which of those are marked. */
export type Hidden = {
  readonly above: number;
  readonly below: number;
  /** Those of them that must not be forgotten. */
  readonly marked: readonly Element[];
  /** It is longer than its room: the scroller's own and, where it has keys below it, theirs. */
  readonly overflows: boolean;
  readonly atTop: boolean;
  readonly atEnd: boolean;
};

const nothingHidden: Hidden = {
  above: 0,
  below: 0,
  marked: [],
  overflows: false,
  atTop: true,
  atEnd: true,
};

/** Items that cannot be seen, and the ends of the list. Reading it costs the browser a layout. */
type Places = Pick<Hidden, 'overflows' | 'atTop' | 'atEnd'> & {
  readonly above: ReadonlySet<Element>;
  readonly below: ReadonlySet<Element>;
  /** Of all of them, so that a new mark is not looked for in every item. */
  readonly marked: Set<Element>;
};

/**
 * Follows what of a list is out of sight. Items carry `data-item`, and `data-marked="yes"` when
 * they must not be forgotten. An item is seen when it stands whole between the head of the
 * list and the end of its room, or fills that.
 *
 * Measuring costs the browser a layout, so that one tap must not ask for it: a new mark is counted where the items
 * were last seen to be; items that come and go, a scroll, and another size of room or list are measured. What comes and
 * goes is measured before it is drawn: keys that came or went a frame later would move what is under a finger.
 */
export function createHidden(scroller: Accessor<HTMLElement | undefined>): Accessor<Hidden> {
  const [hidden, setHidden] = createSignal(nothingHidden, { equals: isSame });
  let places: Places | undefined;
  let frame = 0;
  const measure = () => {
    const element = scroller();
    if (!element) return;
    places = placesIn(element);
    setHidden(countOf(places));
  };
  const soon = () => {
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(measure);
  };
  const changed = (records: readonly MutationRecord[]) => {
    if (!places || records.some(movesItems)) return measure();
    for (const { type, target } of records)
      if (type === 'attributes' && target instanceof Element) remark(places, target);
    setHidden(countOf(places));
  };
  onMount(() => {
    const element = scroller();
    if (!element) return;
    const changes = new MutationObserver(changed);
    const attributeFilter = ['data-item', 'data-marked'];
    changes.observe(element, {
      childList: true,
      subtree: true,
      attributes: true,
      attributeFilter,
    });
    const size = new ResizeObserver(soon);
    const contents = new MutationObserver(() => observeSizes(size, element));
    contents.observe(element, { childList: true });
    observeSizes(size, element);
    element.addEventListener('scroll', soon, { passive: true });
    soon();
    onCleanup(() => {
      cancelAnimationFrame(frame);
      changes.disconnect();
      contents.disconnect();
      size.disconnect();
      element.removeEventListener('scroll', soon);
    });
  });
  return hidden;
}

/** The room and what is in it: a card whose words take another line makes the list longer. */
function observeSizes(size: ResizeObserver, scroller: HTMLElement): void {
  size.disconnect();
  for (const element of [scroller, ...scroller.children]) size.observe(element);
}

const itemSelector = '[data-item]';

/** Whether an item came, went, or something changed outside of all items. */
const movesItems = ({ type, target, attributeName }: MutationRecord): boolean =>
  type === 'childList'
    ? target instanceof Element && target.closest(itemSelector) === null
    : attributeName === 'data-item';

function placesIn(scroller: HTMLElement): Places {
  const view = scroller.getBoundingClientRect();
  const start = view.top + headOf(scroller);
  const above = new Set<Element>();
  const below = new Set<Element>();
  for (const item of scroller.querySelectorAll(itemSelector)) {
    const { top, bottom } = item.getBoundingClientRect();
    if (top < start && bottom > view.bottom) continue; // it fills the room
    if (bottom > view.bottom + slack) below.add(item);
    else if (top < start - slack) above.add(item);
  }
  const marked = new Set([...above, ...below].filter(isMarked));
  return { above, below, marked, ...endsOf(scroller) };
}

/** Takes note of a mark that came or went; one that can be seen is none of what is hidden. */
function remark({ above, below, marked }: Places, item: Element): void {
  if (isMarked(item) && (above.has(item) || below.has(item))) marked.add(item);
  else marked.delete(item);
}

const isMarked = (item: Element): boolean => item.getAttribute('data-marked') === 'yes';

const countOf = ({ above, below, marked, ...ends }: Places): Hidden => ({
  above: above.size,
  below: below.size,
  marked: [...marked],
  ...ends,
});

/** So much of an item may be cut off. Units: CSS pixels. */
const slack = 4;

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
  one.marked.length === other.marked.length &&
  one.marked.every((item, index) => item === other.marked[index]) &&
  one.overflows === other.overflows &&
  one.atTop === other.atTop &&
  one.atEnd === other.atEnd;
