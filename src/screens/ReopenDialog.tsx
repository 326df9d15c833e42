import { createSignal } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from './useSession.ts';

export type ReopenDialogProps = {
  /** The checkpoint or closure. */
  readonly name: string;
  /** What comes of it. */
  readonly sentence: string;
  readonly command: (reason: string) => Command;
  readonly by: string;
  readonly onClose: () => void;
};

/** What was finished or closed is not taken back but reopened, with a reason that stays in the record. */
export function ReopenDialog(props: ReopenDialogProps) {
  const { session } = useSession();
  const [reason, setReason] = createSignal('');
  const reopen = async () => {
    await session.send(props.command(reason().trim()), props.by);
    props.onClose();
  };
  return (
    <Dialog
      title={say`Reopen: ${props.name}`}
      sentence={props.sentence}
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
