import { createSignal } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** An unstable patient leaves before the film. It stays owed. */
export function DeferDialog(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const sentence = () =>
    say`Agreed by ${current().team.surgeon} and ${current().team.circulator}. The film stays owed, and the case
      stays not reconciled.`;
  const defer = async () => {
    const by = ['surgeon', 'circulator'] as const;
    const command = { type: 'deferXray', reason: reason().trim(), by } as const;
    await session.send(command, current().team.surgeon);
    props.onClose();
  };
  return (
    <Dialog
      title={say`The patient leaves before the film`}
      sentence={sentence()}
      onClose={props.onClose}
      actions={
        <Button
          kind="danger"
          whyNot={reason().trim() ? undefined : say`Say why first.`}
          onPress={() => void defer()}
        >
          {say`Leave; the film stays owed`}
        </Button>
      }
    >
      <Field kind="text" label={say`Reason`} value={reason()} onInput={setReason} />
    </Dialog>
  );
}
