import { createSignal } from 'solid-js';
import type { Closure } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** A closed site is reopened with a reason, which undoes its closure and every later one. */
export function ReopenDialog(props: { readonly closure: Closure; readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const reopen = async () => {
    const command = { type: 'reopen', closure: props.closure.id, reason: reason().trim() } as const;
    await session.send(command, current().team.surgeon);
    props.onClose();
  };
  return (
    <Dialog
      title={say`Reopen: ${props.closure.name}`}
      sentence={say`Its closure and every later one are undone; the last look is asked again.`}
      onClose={props.onClose}
      actions={
        <Button
          kind="danger"
          whyNot={reason().trim() ? undefined : say`Say why first.`}
          onPress={() => void reopen()}
        >
          {say`Reopen it`}
        </Button>
      }
    >
      <Field kind="text" label={say`Reason`} value={reason()} onInput={setReason} />
    </Dialog>
  );
}
