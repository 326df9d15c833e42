import { createSignal, Show } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import { Choices } from '#parts/Choices.tsx';
import { NumberPad } from '#parts/NumberPad.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import { useCase } from '../useSession.ts';
import { unweighed } from './unweighed.ts';

const kinds = () =>
  [
    { id: 'swabs', name: say`Swabs weighed` },
    { id: 'suction', name: say`In the suction`, detail: 'mL' },
    { id: 'irrigation', name: say`Irrigation used`, detail: 'mL' },
    { id: 'other', name: say`Liquor or other fluid`, detail: say`mL, taken off` },
  ] as const;

/** Wet swabs weighed, suction and irrigation: an estimate of loss, never more than that. */
export function LossPart(props: { readonly act: (command: Command) => Promise<void> }) {
  const current = useCase();
  const swabs = () => current().sheet.lines.filter((line) => line.class === 'swab');
  const [kind, setKind] = createSignal<string>();
  const [line, setLine] = createSignal(swabs()[0]?.id ?? '');
  const [said, setN] = createSignal<number>();
  const n = () => said() ?? unweighed(current(), line());
  const measure = (amount: number) => {
    if (kind() === 'swabs') void props.act({ type: 'weigh', line: line(), n: n(), wetG: amount });
    else if (kind() === 'suction') void props.act({ type: 'fluid', kind: 'suction', ml: amount });
    else if (kind() === 'other') void props.act({ type: 'fluid', kind: 'other', ml: amount });
    else void props.act({ type: 'fluid', kind: 'irrigation', ml: amount });
  };
  const loss = () => lossOf(current());
  return (
    <>
      <Show when={kind() === undefined}>
        <Choices label={say`What was measured`} choices={kinds()} onChoose={setKind} />
      </Show>
      <Show when={kind() === 'swabs'}>
        <Choices
          label={say`Which swabs`}
          choices={swabs().map(({ id, name, dryG }) => ({
            id,
            name,
            detail: dryG === undefined ? say`dry weight not known` : say`dry ${dryG} g each`,
          }))}
          chosen={line()}
          onChoose={setLine}
        />
        <Stepper label={say`How many`} value={n()} onChange={setN} />
      </Show>
      <Show when={kind() !== undefined}>
        <NumberPad
          label={kind() === 'swabs' ? say`Weight of all together, wet` : say`How much`}
          unit={kind() === 'swabs' ? 'g' : 'mL'}
          length={5}
          setWords={say`Write it down`}
          onNumber={measure}
        />
      </Show>
      <p class="quiet">
        <Show when={!loss().isUnknown} fallback={say`No estimate: a dry weight is not known.`}>
          {say`So far about ${loss().totalMl} mL, an estimate. Weighing reads high.`}
        </Show>
      </p>
    </>
  );
}
