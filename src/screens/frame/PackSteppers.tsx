import { For, Show } from 'solid-js';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';

/** Each pack is seen and has a number of its own. */
export function PackSteppers(props: {
  readonly line: Line;
  readonly packs: readonly number[];
  readonly onChange: (packs: readonly number[]) => void;
}) {
  const set = (index: number, pieces: number) =>
    props.onChange(props.packs.map((old, at) => (at === index ? pieces : old)));
  return (
    <Show
      when={props.line.pack !== undefined}
      fallback={
        <Stepper
          label={say`How many, seen by both`}
          value={props.packs[0] ?? 1}
          onChange={(pieces) => set(0, pieces)}
        />
      }
    >
      <For each={props.packs.map((_, index) => index)}>
        {(index) => (
          <Stepper
            label={say`Pack ${index + 1} holds`}
            value={props.packs[index] ?? 0}
            min={1}
            max={99}
            onChange={(pieces) => set(index, pieces)}
          />
        )}
      </For>
      <div class="row">
        <Button kind="plain" onPress={() => props.onChange([...props.packs, props.line.pack ?? 1])}>
          {say`One more pack`}
        </Button>
        <Show when={props.packs.length > 1}>
          <Button kind="plain" onPress={() => props.onChange(props.packs.slice(0, -1))}>
            {say`One pack less`}
          </Button>
        </Show>
      </div>
    </Show>
  );
}
