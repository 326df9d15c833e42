/** A scanner that types: keys on the page at instants of their own, whatever the machine is busy with. */

let clockMs = 10_000;

/** Keys one after another, and a rest. Units: `everyMs` milliseconds between two. */
export function typeOn(
  target: EventTarget,
  keys: readonly string[],
  everyMs: number,
  restMs = 1000,
): void {
  for (const key of keys) {
    clockMs += everyMs;
    for (const type of ['keydown', 'keyup'] as const) {
      const event = new KeyboardEvent(type, { key, bubbles: true, cancelable: true });
      Object.defineProperty(event, 'timeStamp', { value: clockMs });
      target.dispatchEvent(event);
    }
  }
  clockMs += restMs;
}

/** A whole scan, ended by Enter. */
export const scanOn = (target: EventTarget, text: string): void =>
  typeOn(target, [...text, 'Enter'], 5);
