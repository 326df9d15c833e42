import { createSignal, type Setter, type Signal } from 'solid-js';

/**
 * A state of which each field is a signal: who reads a field is told when that field is another, and of nothing else.
 * The fields are those of the first state; they never come or go.
 */
export function createFields<State extends object>(
  first: State,
): readonly [fields: State, set: (next: State) => void] {
  const fields = {};
  const setters: (readonly [name: string, set: Setter<unknown>])[] = [];
  for (const [name, value] of Object.entries(first)) {
    const [get, set]: Signal<unknown> = createSignal<unknown>(value);
    Object.defineProperty(fields, name, { get, enumerable: true });
    setters.push([name, set]);
  }
  const set = (next: State) => {
    for (const [name, setField] of setters) setField(() => Reflect.get(next, name));
  };
  return [fields as State, set]; // it has just been given every field of the first state
}
