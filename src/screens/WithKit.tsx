import { createResource, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import type { RecordKit } from './recordKit.ts';

export type WithKitProps = {
  readonly load: () => Promise<RecordKit>;
  readonly children: (kit: RecordKit) => JSX.Element;
};

/** What makes the record, read when a screen wants it. */
export function WithKit(props: WithKitProps) {
  const [kit] = createResource(() => props.load());
  return (
    <Show when={kit()} fallback={<p class="waiting">{say`Laying out the record…`}</p>}>
      {(ready) => props.children(ready())}
    </Show>
  );
}
