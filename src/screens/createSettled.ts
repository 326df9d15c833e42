import { type Accessor, createComputed, createSignal, untrack } from 'solid-js';

/**
 * Follows a computation, and tells those who read it only when its value is another.
 *
 * A memo with the same `equals` is not enough where many rows read it: as soon as something changes that it reads, all
 * that reads it is asked, down to the last bead of 150 wires, only to find that nothing is new.
 */
export function createSettled<T>(
  compute: () => T,
  equals: (one: T, other: T) => boolean = Object.is,
): Accessor<T> {
  const [value, setValue] = createSignal<T>(untrack(compute), { equals });
  createComputed(() => {
    const next = compute();
    setValue(() => next);
  });
  return value;
}
