import { createSignal } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';

/** The code for paper, shown once. */
export function ShowCode(props: { readonly code: string; readonly onClose: () => void }) {
  return (
    <Dialog
      title={say`Write this code on paper`}
      sentence={say`It opens this tablet when PINs are forgotten or the browser loses its key. It is not shown
        again.`}
      onClose={props.onClose}
      closeWords={say`It is on paper`}
    >
      <p class="people-code digits-type">{props.code}</p>
      <p class="quiet">
        {say`Keep it where the unit keeps its keys, away from the tablet. Whoever has both reads every case.`}
      </p>
    </Dialog>
  );
}

/** Opens the tablet by the code on paper. */
export function OpenByCode(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const [typed, setTyped] = createSignal('');
  const [said, setSaid] = createSignal<string>();
  const open = async () => {
    const opened = await session.people.openByCode(typed());
    if (opened.ok) props.onClose();
    else setSaid(opened.sentence);
  };
  return (
    <Dialog
      title={say`The code on paper`}
      sentence={say`26 letters and digits. Lines and small letters do not matter.`}
      onClose={props.onClose}
      actions={
        <Button kind="primary" onPress={() => void open()}>
          {say`Open`}
        </Button>
      }
    >
      <Field
        kind="text"
        label={say`Code`}
        length={60}
        value={typed()}
        error={said()}
        onInput={setTyped}
      />
    </Dialog>
  );
}
