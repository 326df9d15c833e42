import { createSignal, For, Show } from 'solid-js';
import type { Checkpoint, Step } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

export type StepDialogProps = {
  readonly checkpoint: Checkpoint;
  readonly step: Step;
  readonly kind: 'open' | 'not-applicable';
  readonly onClose: () => void;
};

const reasons = (): Readonly<Record<StepDialogProps['kind'], readonly string[]>> => ({
  open: [say`Emergency: no time`, say`Not to be had here`, say`Patient cannot answer`],
  'not-applicable': [
    say`Not needed for this operation`,
    say`Single organ, no side`,
    say`Not indicated`,
  ],
});

/** A step that cannot be answered stays open, with a name and a reason. It is never ticked. */
export function StepDialog(props: StepDialogProps) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const by = () => current().checkpoints[props.checkpoint.id]?.leader ?? '';
  const send = async () => {
    const bare = { type: 'answer', checkpoint: props.checkpoint.id, step: props.step.id } as const;
    const said =
      props.kind === 'open'
        ? { open: { name: by(), reason: reason().trim() } }
        : { notApplicable: reason().trim() };
    await session.send({ ...bare, ...said }, by());
    props.onClose();
  };
  return (
    <Dialog
      title={props.kind === 'open' ? say`Leave this step open` : say`This does not apply`}
      onClose={props.onClose}
      actions={
        <Button
          kind={props.kind === 'open' ? 'danger' : 'primary'}
          whyNot={reason().trim() ? undefined : say`Say why first.`}
          onPress={() => void send()}
        >
          {props.kind === 'open' ? say`It stays open` : say`Does not apply`}
        </Button>
      }
    >
      <p>{props.step.ask}</p>
      <Show when={props.kind === 'open'}>
        <p class="dialog-warning">
          {say`◆ It is not ticked. The record says that ${by()} left it open, and why.`}
        </p>
      </Show>
      <div class="row">
        <For each={reasons()[props.kind]}>
          {(words) => (
            <Button kind="plain" isPressed={reason() === words} onPress={() => setReason(words)}>
              {words}
            </Button>
          )}
        </For>
      </div>
      <Field kind="text" label={say`Reason`} value={reason()} onInput={setReason} />
    </Dialog>
  );
}
