/** So much of a page is shown again on the next, so that nobody loses the place. */
const kept = 0.12;

/** What stays at the top of a room while its list moves. Units: CSS pixels. */
export const headOf = (view: Element): number =>
  view.querySelector('[data-head]')?.getBoundingClientRect().height ?? 0;

/** How far an item stands below where a page begins; less than nothing above it. Units: CSS pixels. */
export const fromTop = (view: Element, item: Element): number =>
  item.getBoundingClientRect().top - view.getBoundingClientRect().top - headOf(view);

/** Turns to whole rows where the list has rows, so that none is cut at the top. */
export function turnPage(view: HTMLElement, way: 1 | -1): void {
  const page = view.clientHeight - headOf(view);
  const wanted = view.scrollTop + way * page * (1 - kept);
  const starts = [...view.querySelectorAll('[data-item], [data-stop]')]
    .map((item) => fromTop(view, item) + view.scrollTop)
    .filter((start) => (way === 1 ? start > view.scrollTop + 1 : start < view.scrollTop - 1));
  // Down: the last row that was still seen whole or in part leads the next page. Up: the first that then fits.
  const start =
    way === 1 ? starts.findLast((one) => one <= wanted + 1) : starts.find((one) => one >= wanted);
  view.scrollTop = start ?? wanted;
}
