import { createSignal, Show } from 'solid-js';
import type { Xray } from '#engine/discrepancies/events.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from './useSession.ts';

export type XrayDialogProps = {
  readonly line?: string;
  /** Whose film it is, where no case is on the screen. */
  readonly sentence?: string;
  /** Records it, where it is not for the case on the screen. */
  readonly onRead?: (film: Xray) => void;
  /** The step may be left out with a reason. */
  readonly canSkip?: boolean;
  readonly onClose: () => void;
};

/** A film and who read it. It never changes the count. */
export function XrayDialog(props: XrayDialogProps) {
  const { session } = useSession();
  const [readBy, setReadBy] = createSignal('');
  const [whole, setWhole] = createSignal('');
  const [result, setResult] = createSignal('');
  const [skip, setSkip] = createSignal('');
  const isReady = () => readBy().trim() !== '' && whole() !== '' && result() !== '';
  const read = async () => {
    const film: Xray = {
      type: 'xray',
      ...(props.line === undefined ? {} : { line: props.line }),
      wholeField: whole() === 'yes',
      result: result() === 'seen' ? 'seen' : 'nothing-seen',
      readBy: readBy().trim(),
    };
    if (props.onRead) props.onRead(film);
    else await session.send(film);
    props.onClose();
  };
  const leaveOut = async () => {
    if (props.line === undefined) return;
    const bare = { type: 'discrepancy', line: props.line, step: 'xray', by: 'surgeon' } as const;
    await session.send({ ...bare, skip: skip().trim() });
    props.onClose();
  };
  return (
    <Dialog
      title={say`X-ray`}
      sentence={props.sentence}
      onClose={props.onClose}
      actions={
        <Button
          kind="primary"
          whyNot={
            isReady() ? undefined : say`Say who read it, what it shows, and whether all of it.`
          }
          onPress={() => void read()}
        >
          {say`Film read`}
        </Button>
      }
    >
      <p class="dialog-warning">
        {say`◆ A negative film never settles a count. Film a piece of the same kind beside it.`}
      </p>
      <Field kind="text" label={say`Read by`} value={readBy()} onInput={setReadBy} />
      <Choices
        label={say`Whole field shown`}
        choices={[
          { id: 'yes', name: say`The whole field` },
          { id: 'no', name: say`Not all of it` },
        ]}
        chosen={whole()}
        onChoose={setWhole}
      />
      <Choices
        label={say`What it shows`}
        choices={[
          { id: 'nothing', name: say`Nothing seen` },
          { id: 'seen', name: say`Something seen` },
        ]}
        chosen={result()}
        onChoose={setResult}
      />
      <Show when={props.canSkip}>
        <Field
          kind="text"
          label={say`No film was taken, because`}
          value={skip()}
          onInput={setSkip}
        />
        <Button
          kind="danger"
          whyNot={skip().trim() ? undefined : say`Say why first.`}
          onPress={() => void leaveOut()}
        >
          {say`No film: it stays owed`}
        </Button>
      </Show>
    </Dialog>
  );
}
