import { For, Show } from 'solid-js';

export type TrackStep = {
  readonly id: string;
  readonly name: string;
  readonly said?: string | undefined;
  readonly state: 'done' | 'here' | 'ahead';
};

/** The way of a specimen from the field to whoever takes it. */
export function Track(props: { readonly steps: readonly TrackStep[] }) {
  return (
    <ol class="track">
      <For each={props.steps}>
        {(step) => (
          <li
            class="track-step"
            data-state={step.state}
            aria-current={step.state === 'here' ? 'step' : undefined}
          >
            <strong>
              <Show when={step.state === 'done'}>✓ </Show>
              {step.name}
            </strong>
            <span>{step.said ?? ''}</span>
          </li>
        )}
      </For>
    </ol>
  );
}
