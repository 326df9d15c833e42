import { Show } from 'solid-js';
import type { LabelSaid } from './createLabelScan.ts';

/** What the last scan said. */
export function ScanSays(props: { readonly said: LabelSaid | undefined }) {
  return (
    <Show when={props.said}>
      {(said) => (
        <p
          class={said().stops ? 'start-report' : 'count-done'}
          role={said().stops ? 'alert' : 'status'}
        >
          {said().stops ? '▲ ' : '✓ '}
          {said().sentence}
        </p>
      )}
    </Show>
  );
}
