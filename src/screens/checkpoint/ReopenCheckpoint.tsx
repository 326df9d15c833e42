import { createSignal } from 'solid-js';
import type { Checkpoint } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

export type ReopenCheckpointProps = {
  readonly checkpoint: Checkpoint;
  readonly onClose: () => void;
};

/** A finished checkpoint is not taken back but reopened, with a reason that stays in the record. */
export function ReopenCheckpoint(props: ReopenCheckpointProps) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const reopen = async () => {
    const { id } = props.checkpoint;
    const command = { type: 'reopenCheckpoint', id, reason: reason().trim() } as const;
    await session.send(command, current().team.circulator);
    props.onClose();
  };
  return (
    <Dialog
      title={say`Reopen: ${props.checkpoint.name}`}
      sentence={say`Its answers stay; it has to be finished again.`}
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
