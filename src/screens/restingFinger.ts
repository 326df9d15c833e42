/** A finger that stays longer rests on the glass and taps nothing. Units: milliseconds. Our choice, no source. */
const restsFromMs = 1500;
/** A click comes at once when the finger is lifted; a key pressed later is no part of it. Units: milliseconds. */
const clickWithinMs = 500;

/**
 * Takes the click away from a finger that rested: browsers give one when it is lifted, however late. Slides and several
 * fingers at once give none by themselves (tests/browser/touch.e2e.ts).
 */
export function ignoreRestingFingers(page: EventTarget): void {
  let downAt = 0;
  let restedUntil: number | undefined;
  const listen = (type: string, heard: (event: Event) => void) =>
    page.addEventListener(type, heard, { capture: true });
  listen('pointerdown', ({ timeStamp }) => {
    downAt = timeStamp;
    restedUntil = undefined;
  });
  listen('pointerup', (event) => {
    const isTouch = event instanceof PointerEvent && event.pointerType === 'touch';
    if (isTouch && event.timeStamp - downAt >= restsFromMs) restedUntil = event.timeStamp;
  });
  listen('click', (event) => {
    if (restedUntil === undefined || event.timeStamp - restedUntil > clickWithinMs) return;
    event.stopPropagation();
    event.preventDefault();
  });
}
