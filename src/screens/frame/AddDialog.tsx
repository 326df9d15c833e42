import { createMemo, createSignal, For, Show } from 'solid-js';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** Something is opened onto the field: which line, what each pack held, seen by two people. */
export function AddDialog(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [chosen, setChosen] = createSignal<Line>();
  const [packs, setPacks] = createSignal<readonly number[]>([1]);
  const lines = createMemo(() => [...current().sheet.lines].filter((line) => line.counted));
  const sections = createMemo(() => current().sheet.sections);
  const choose = (line: Line) => {
    setChosen(line);
    setPacks([line.pack ?? 1]);
  };
  const isOdd = () => {
    const pack = chosen()?.pack;
    return pack !== undefined && packs().some((pieces) => pieces !== pack);
  };
  const add = async () => {
    const line = chosen();
    if (!line) return;
    const said = line.pack === undefined ? { n: packs()[0] ?? 1 } : { packs: packs() };
    const outcome = await session.send({ type: 'add', line: line.id, ...said });
    if (outcome.ok) props.onClose();
  };
  return (
    <Dialog
      title={chosen() ? say`Add: ${chosen()?.name}` : say`Add to the field`}
      onClose={props.onClose}
      actions={
        <Show when={chosen()}>
          <Button kind="primary" onPress={() => void add()}>
            {say`Both saw it: ${current().team.scrub} and ${current().team.circulator}`}
          </Button>
        </Show>
      }
    >
      <Show
        when={chosen()}
        fallback={
          <For each={sections()}>
            {(section) => (
              <SectionLines
                name={section.name}
                lines={lines().filter((line) => line.section === section.id)}
                onChoose={choose}
              />
            )}
          </For>
        }
      >
        {(line) => (
          <>
            <PackSteppers line={line()} packs={packs()} onChange={setPacks} />
            <Show when={isOdd()}>
              <p class="dialog-warning">
                {say`◆ A pack that does not hold ${line().pack} is set aside whole: out of the count, marked, and
                  kept in the room.`}
              </p>
            </Show>
          </>
        )}
      </Show>
    </Dialog>
  );
}

function SectionLines(props: {
  readonly name: string;
  readonly lines: readonly Line[];
  readonly onChoose: (line: Line) => void;
}) {
  return (
    <Show when={props.lines.length > 0}>
      <h3 class="dialog-part">{props.name}</h3>
      <ChoiceGrid
        label={props.name}
        choices={props.lines.map(({ id, name, pack, detail }) => ({
          id,
          name,
          detail: pack ? say`pack of ${pack}` : detail,
        }))}
        onChoose={(id) => {
          const line = props.lines.find((one) => one.id === id);
          if (line) props.onChoose(line);
        }}
      />
    </Show>
  );
}

/** Each pack is seen and has a number of its own. */
function PackSteppers(props: {
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
