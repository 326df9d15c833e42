import { type Accessor, createEffect, on, onCleanup, onMount } from 'solid-js';

/** Keeps the one that is asked in the middle of its list: when another is asked, and when the tablet is turned. */
export function keepInSight(here: Accessor<string | undefined>) {
  const elements = new Map<string, HTMLElement>();
  const toMiddle = () => elements.get(here() ?? '')?.scrollIntoView({ block: 'center' });
  createEffect(on(here, toMiddle));
  onMount(() => {
    addEventListener('resize', toMiddle);
    onCleanup(() => removeEventListener('resize', toMiddle));
  });
  return (id: string, element: HTMLElement): void => {
    elements.set(id, element);
  };
}
