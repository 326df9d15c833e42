import { createSignal } from 'solid-js';
import { samePerson } from '#engine/people.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { personOfBadge } from '#scan/badgeIn.ts';
import { say } from '#words/say.ts';
import { useCaseScans } from '../caseScans.ts';
import { useCase, useSession } from '../useSession.ts';
import type { FreshEyes } from './createRecounting.ts';

/** Somebody who did not count before counts in the place of one of the two. Their roles stay as they are. */
export function FreshEyesDialog(props: {
  readonly onBring: (other: FreshEyes) => void;
  readonly onClose: () => void;
}) {
  const { state } = useSession();
  const current = useCase();
  const [name, setName] = createSignal('');
  const [role, setRole] = createSignal<FreshEyes['for']>('circulator');
  useCaseScans().take((scan) => {
    const person = personOfBadge(state().unit.people, scan);
    if (person) setName(person.name);
    return person !== undefined;
  });
  const whyNot = () => {
    const { scrub, circulator } = current().team;
    if (!name().trim()) return say`Say who.`;
    return [scrub, circulator].some((one) => samePerson(one, name()))
      ? say`That is one of the two.`
      : undefined;
  };
  return (
    <Dialog
      title={say`A fresh pair of eyes`}
      sentence={say`Somebody who did not count before. The roles of the two stay as they are.`}
      onClose={props.onClose}
      actions={
        <Button
          kind="primary"
          whyNot={whyNot()}
          onPress={() => props.onBring({ name: name().trim(), for: role() })}
        >
          {say`Counts with us`}
        </Button>
      }
    >
      <Field kind="text" label={say`Who counts`} value={name()} onInput={setName} />
      <Choices
        label={say`In the place of`}
        choices={(['scrub', 'circulator'] as const).map((id) => ({
          id,
          name: current().team[id],
          detail: id === 'scrub' ? say`Scrub` : say`Circulator`,
        }))}
        chosen={role()}
        onChoose={(id) => setRole(id === 'scrub' ? 'scrub' : 'circulator')}
      />
    </Dialog>
  );
}
