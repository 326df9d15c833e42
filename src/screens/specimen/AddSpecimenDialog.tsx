import { createSignal, Show } from 'solid-js';
import { type Side, sides } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { useCase, useSession } from '../useSession.ts';

/** Another specimen: one that the sheet offers, or one of its own name. */
export function AddSpecimenDialog(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const offered = () =>
    current().sheet.specimens.filter((one) => current().specimens[one.id] === undefined);
  const [chosen, setChosen] = createSignal(offered()[0]?.id ?? 'own');
  const [name, setName] = createSignal('');
  const [siteWords, setSiteWords] = createSignal('');
  const [side, setSide] = createSignal<Side>('not applicable');
  const isOwn = () => chosen() === 'own';
  const add = async () => {
    const id = isOwn() ? `specimen-${Object.keys(current().specimens).length + 1}` : chosen();
    const own = { name: name().trim(), siteWords: siteWords().trim(), side: side(), media: [] };
    const site = current().sheet.sites[0]?.id;
    const outcome = await session.send({
      type: 'specimen',
      id,
      step: 'added',
      ...(isOwn() ? { ...own, ...(site === undefined ? {} : { site }) } : {}),
    });
    props.onClose();
    if (outcome.ok) session.show({ name: 'specimen', about: id });
  };
  return (
    <Dialog
      title="New specimen"
      onClose={props.onClose}
      actions={
        <Button
          kind="primary"
          whyNot={!isOwn() || name().trim() ? undefined : 'Say what it is.'}
          onPress={() => void add()}
        >
          Add it
        </Button>
      }
    >
      <Choices
        label="What is taken"
        choices={[
          ...offered().map((one) => ({ id: one.id, name: one.name, detail: one.test })),
          { id: 'own', name: 'Something else' },
        ]}
        chosen={chosen()}
        onChoose={setChosen}
      />
      <Show when={isOwn()}>
        <Field kind="text" label="Name" value={name()} onInput={setName} />
        <Field kind="text" label="Exact site" value={siteWords()} onInput={setSiteWords} />
        <Choices
          label="Side"
          choices={sides.map((one) => ({ id: one, name: one }))}
          chosen={side()}
          onChoose={(id) => setSide(sides.find((one) => one === id) ?? 'not applicable')}
        />
      </Show>
    </Dialog>
  );
}
