import { createMemo, createResource, createSignal, onCleanup, onMount, Show } from 'solid-js';
import { Portal } from 'solid-js/web';
import { labelOf } from '#engine/specimens/labelOf.ts';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { type LabelSize, labelSizes, SpecimenLabel } from '#parts/SpecimenLabel.tsx';
import { labelCodeOf } from '#scan/labelCode.ts';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** The size chosen last stays chosen: a theatre has one label printer. */
const [size, setSize] = createSignal<LabelSize>('small');

/** One label for one pot, on the screen as it will be, and to the printer. Printed twice only when it is said why. */
export function PrintLabel(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const current = useCase();
  const code = createMemo(() => labelCodeOf(current(), props.specimen));
  const [bars] = createResource(code, barsOf);
  const printed = createMemo(() => current().notes.find((note) => note.text.includes(code())));
  const words = () => ({
    ...labelOf(current(), props.specimen),
    medium: `${props.specimen.medium ?? ''}${current().practice ? say` · PRACTICE` : ''}`,
    surgeon: current().team.surgeon,
  });
  const label = () => (
    <SpecimenLabel words={words()} size={size()} code={code()} bars={bars.latest} />
  );
  const [isChoosing, setChoosing] = createSignal(false);
  const sizeName = () => labelSizes.find(({ id }) => id === size())?.name;
  const print = async () => {
    const { letter, name, pot } = props.specimen;
    const again = printed() ? say`printed again` : say`printed`;
    const outcome = await session.send(
      { type: 'note', text: say`Label ${again} for ${letter} ${name}, pot ${pot}: ${code()}.` },
      current().team.circulator,
    );
    if (outcome.ok) printAlone();
  };
  onMount(() => window.addEventListener('afterprint', printedAlone));
  onCleanup(() => {
    window.removeEventListener('afterprint', printedAlone);
    printedAlone();
  });
  return (
    <div class="step-form label-printer">
      <div class="pot-label-frame">{label()}</div>
      <div class="row">
        <Show
          when={printed()}
          fallback={
            <Button
              kind="plain"
              detail={sizeName()}
              whyNot={bars.latest ? undefined : say`The bars are not ready yet.`}
              onPress={() => void print()}
            >
              {say`Print the label`}
            </Button>
          }
        >
          {(note) => (
            <Button
              kind="danger"
              detail={say`Printed at ${note().at.slice(11, 16)}. One label a pot.`}
              onPress={() => void print()}
            >
              {say`Print again: the first is destroyed`}
            </Button>
          )}
        </Show>
        <Button kind="quiet" onPress={() => setChoosing(!isChoosing())}>
          {say`Size…`}
        </Button>
      </div>
      <Show when={isChoosing()}>
        <Choices
          label={say`Label in the printer`}
          choices={labelSizes.map(({ id, name }) => ({ id, name }))}
          chosen={size()}
          onChoose={(id) => {
            setSize(labelSizes.find((one) => one.id === id)?.id ?? 'small');
            setChoosing(false);
          }}
        />
      </Show>
      <Portal>
        <div class="print-alone">{label()}</div>
      </Portal>
    </div>
  );
}

const barsOf = async (code: string): Promise<string> =>
  (await import('#scan/code128.ts')).code128(code);

function printAlone(): void {
  document.documentElement.dataset.printing = 'label';
  window.print();
}

function printedAlone(): void {
  delete document.documentElement.dataset.printing;
}
