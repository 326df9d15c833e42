import { createSignal, Show } from 'solid-js';
import { fitsVariant } from '#engine/applies.ts';
import { type PlannedSpecimen, type Side, sides } from '#engine/sheet.ts';
import type { StepSpecimen } from '#engine/specimens/events.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** Another specimen: a tap on one that the sheet offers adds it, or one of its own name is written. */
export function AddSpecimenDialog(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [isOwn, setOwn] = createSignal(false);
  const add = async (specimen: Omit<StepSpecimen, 'type' | 'step'>) => {
    const outcome = await session.send({ type: 'specimen', step: 'added', ...specimen });
    props.onClose();
    if (outcome.ok) session.show({ name: 'specimen', about: specimen.id });
  };
  const choose = (id: string) => {
    const offered = offeredNow(current()).find((one) => one.id === id);
    if (offered) void add(another(current(), offered));
    else setOwn(true);
  };
  return (
    <Dialog title={say`New specimen`} onClose={props.onClose}>
      <Show
        when={isOwn()}
        fallback={
          <Choices
            label={say`What is taken`}
            choices={[
              ...offeredNow(current()).map((one) => choiceOf(current(), one)),
              { id: 'own', name: say`Something else`, detail: say`Write its name` },
            ]}
            onChoose={choose}
          />
        }
      >
        <Own onAdd={(own) => void add(own)} />
      </Show>
    </Dialog>
  );
}

/** What the sheet foresees for this way of operating, so that nobody takes the side that is not operated. */
const offeredNow = (current: Case): readonly PlannedSpecimen[] =>
  current.sheet.specimens.filter(
    (one) => fitsVariant(current, one.when) && !(one.planned && isThere(current, one.id)),
  );

const isThere = (current: Case, id: string): boolean => current.specimens[id] !== undefined;

function choiceOf(current: Case, one: PlannedSpecimen) {
  const site = current.sheet.sites.find(({ id }) => id === one.site)?.name ?? one.site;
  const side = one.side === 'not applicable' ? [] : [one.side];
  const again = isThere(current, one.id) ? [say`one more`] : [];
  return {
    id: one.id,
    name: one.name,
    detail: [one.siteWords ?? site, ...side, one.test, ...again].join(', '),
  };
}

/** The specimen of the sheet, or a further one like it, with an id and letter of its own. */
function another(current: Case, offered: PlannedSpecimen) {
  const { id, name, site, siteWords, side, test, media } = offered;
  if (!isThere(current, id)) return { id };
  let n = 2;
  while (isThere(current, `${id}-${n}`)) n += 1;
  const words = siteWords === undefined ? {} : { siteWords };
  return { id: `${id}-${n}`, name, site, side, test, media, ...words };
}

/** One that the sheet does not know: its name, where it was taken, and the side. */
function Own(props: { readonly onAdd: (own: Omit<StepSpecimen, 'type' | 'step'>) => void }) {
  const current = useCase();
  const [name, setName] = createSignal('');
  const [siteWords, setSiteWords] = createSignal('');
  const [side, setSide] = createSignal<Side>('not applicable');
  const add = () => {
    const site = current().sheet.sites[0]?.id;
    props.onAdd({
      id: `specimen-${Object.keys(current().specimens).length + 1}`,
      name: name().trim(),
      siteWords: siteWords().trim(),
      side: side(),
      media: [],
      ...(site === undefined ? {} : { site }),
    });
  };
  return (
    <>
      <div class="dialog-fields">
        <Field kind="text" label={say`Name`} value={name()} onInput={setName} />
        <Field kind="text" label={say`Exact site`} value={siteWords()} onInput={setSiteWords} />
      </div>
      <Choices
        label={say`Side`}
        choices={sides.map((one) => ({ id: one, name: one }))}
        chosen={side()}
        onChoose={(id) => setSide(sides.find((one) => one === id) ?? 'not applicable')}
      />
      <Button
        kind="primary"
        whyNot={name().trim() ? undefined : say`Say what it is.`}
        onPress={add}
      >
        {say`Add it`}
      </Button>
    </>
  );
}
