import { For } from 'solid-js';
import { Stepper } from '#parts/Stepper.tsx';
import type { SetOfLines } from './shelf.ts';

/** Each part of what was opened has a number of its own; none where it is not in this one. */
export function SetSteppers(props: {
  readonly set: SetOfLines;
  readonly parts: ReadonlyMap<string, number>;
  readonly onChange: (line: string, n: number) => void;
}) {
  return (
    <div class="set-parts">
      <For each={props.set.lines}>
        {(line) => (
          <Stepper
            label={line.name}
            value={props.parts.get(line.id) ?? 0}
            min={0}
            max={99}
            onChange={(n) => props.onChange(line.id, n)}
          />
        )}
      </For>
    </div>
  );
}
