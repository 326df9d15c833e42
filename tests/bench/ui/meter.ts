/** What one tap cost, as the page saw it. Units: milliseconds since the finger left the glass. */
export type Tap = {
  /** The first frame after the tap was drawn. */
  readonly frame: number;
  /** The entry was acknowledged: it is in both journals, and the number begins to change. */
  readonly durable: number;
  /** The frame with the new number was drawn. */
  readonly number: number;
};

export type Metered = {
  readonly taps: readonly Tap[];
  /** The browser's own Event Timing, the longest event of each tap, rounded to 8 ms; none under 16 ms. */
  readonly events: readonly number[];
  /** Layout shifts without a tap before them, added up. */
  readonly shift: number;
};

/** Put into every page before its own scripts. `takeMetered` answers what was metered since, and starts anew. */
export function meter(): void {
  type Open = { at: number; frame: number; durable: number; number: number };
  let taps: Open[] = [];
  let open: Open | undefined;
  let shift = 0;
  const events = new Map<number, number>();
  const afterFrame = (told: (now: number) => void): void => {
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => told(performance.now());
      port2.postMessage(undefined);
    });
  };
  addEventListener(
    'pointerup',
    ({ timeStamp }) => {
      const tap = { at: timeStamp, frame: 0, durable: 0, number: 0 };
      open = tap;
      taps.push(tap);
      afterFrame((now) => {
        tap.frame = now - tap.at;
      });
    },
    true,
  );
  const look = () => {
    const tap = open;
    if (!tap || tap.durable > 0) return;
    tap.durable = performance.now() - tap.at;
    afterFrame((now) => {
      tap.number = now - tap.at;
    });
  };
  new MutationObserver(look).observe(document, { subtree: true, attributeFilter: ['data-entry'] });
  const takeMetered = (): Metered => {
    const metered = { taps, events: [...events.values()], shift };
    taps = [];
    open = undefined;
    events.clear();
    return metered;
  };
  const observe = (type: string, more: object): void => {
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) {
        const number = (name: string) => Number(Reflect.get(entry, name) ?? 0);
        if (type === 'layout-shift' && !Reflect.get(entry, 'hadRecentInput'))
          shift += number('value');
        const id = number('interactionId');
        if (id > 0) events.set(id, Math.max(entry.duration, events.get(id) ?? 0));
      }
    }).observe({ type, buffered: true, ...more });
  };
  observe('layout-shift', {});
  observe('event', { durationThreshold: 16 });
  Object.assign(window, { takeMetered });
}
