import { createSignal, Show } from 'solid-js';
import { roles } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import { NewPin } from './NewPin.tsx';

const everyRole = [...roles, 'other'] as const;
const roleNames = () =>
  ({
    scrub: say`Scrub`,
    circulator: say`Circulator`,
    surgeon: say`Surgeon`,
    anaesthetist: say`Anaesthetist`,
    other: say`Other`,
  }) as const;

/** A person of the unit: name, what they do, and a PIN of their own choice. */
export function AddPerson(props: {
  readonly onClose: () => void;
  readonly onCode: (code: string) => void;
}) {
  const { session } = useSession();
  const [name, setName] = createSignal('');
  const [chosen, setChosen] = createSignal<readonly string[]>([]);
  const [isNamed, setNamed] = createSignal(false);
  const [isBusy, setBusy] = createSignal(false);
  const [said, setSaid] = createSignal<string>();
  const toggle = (role: string) =>
    setChosen(
      chosen().includes(role) ? chosen().filter((one) => one !== role) : [...chosen(), role],
    );
  const add = async (pin: string) => {
    setBusy(true);
    const wanted = everyRole.filter((role) => chosen().includes(role));
    const added = await session.people.add({ name: name(), roles: wanted, pin });
    setBusy(false);
    if (!added.ok) {
      setSaid(added.sentence);
      return;
    }
    props.onClose();
    if (added.code) props.onCode(added.code);
  };
  const isReady = () => name().trim() !== '' && chosen().length > 0;
  return (
    <Dialog
      title={say`A person of the unit`}
      onClose={props.onClose}
      actions={
        <Show when={!isNamed()}>
          <Button
            kind="primary"
            whyNot={isReady() ? undefined : say`Say the name and at least one role.`}
            onPress={() => setNamed(true)}
          >
            {say`To the PIN`}
          </Button>
        </Show>
      }
    >
      <Show
        when={isNamed()}
        fallback={
          <>
            <Field kind="text" label={say`Name`} length={60} value={name()} onInput={setName} />
            <ChoiceGrid
              label={say`Roles`}
              choices={everyRole.map((id) => ({ id, name: roleNames()[id] }))}
              chosen={chosen()}
              onChoose={toggle}
            />
          </>
        }
      >
        <NewPin
          name={name().trim()}
          isBusy={isBusy()}
          said={said()}
          onPin={(pin) => void add(pin)}
        />
      </Show>
    </Dialog>
  );
}
