import { createSignal } from 'solid-js';
import type { DiscrepancyStep } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';

export type SkipDialogProps = {
  readonly line: string;
  readonly step: DiscrepancyStep;
  readonly onClose: () => void;
};

/** A step that is not done carries a reason and a name. */
export function SkipDialog(props: SkipDialogProps) {
  const { session } = useSession();
  const [reason, setReason] = createSignal('');
  const skip = async () => {
    const { line, step } = props;
    await session.send({ type: 'discrepancy', line, step, by: 'surgeon', skip: reason().trim() });
    props.onClose();
  };
  return (
    <Dialog
      title={say`This step is not done`}
      onClose={props.onClose}
      actions={
        <Button
          kind="danger"
          whyNot={reason().trim() ? undefined : say`Say why first.`}
          onPress={() => void skip()}
        >
          {say`Not done, for this reason`}
        </Button>
      }
    >
      <Field kind="text" label={say`Why not`} value={reason()} onInput={setReason} />
    </Dialog>
  );
}
