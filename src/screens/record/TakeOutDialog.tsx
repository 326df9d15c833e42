import { createSignal, Show } from 'solid-js';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { say } from '#words/say.ts';
import type { RecordKit, RecordProps } from '../recordKit.ts';
import { saveFile } from '../saveFile.ts';
import { useSession } from '../useSession.ts';

export type TakeOutDialogProps = {
  readonly outputs: RecordKit['outputs'];
  readonly record: RecordProps;
  readonly onClose: () => void;
};

/** The record in a form for another system. What was taken out is noted in the case. */
export function TakeOutDialog(props: TakeOutDialogProps) {
  const { session } = useSession();
  const [wrong, setWrong] = createSignal<string>();
  const take = async (id: string) => {
    const output = props.outputs.find((one) => one.id === id);
    if (!output) return;
    const { code, current } = props.record;
    try {
      const { text, name, type } = await output.make(props.record);
      saveFile(text, name, type);
    } catch {
      setWrong(
        say`This form could not be made. The case is as it was; take it out as a file instead.`,
      );
      return;
    }
    props.onClose();
    const note = say`Taken out as ${output.name} (${output.detail}), up to entry ${current.entry}, chain code
      ${code}.`;
    // The tablet notes it: whose finger it was it does not know.
    await session.send({ type: 'note', text: note });
  };
  return (
    <Dialog
      title={say`Take out in another form`}
      sentence={say`The file has the patient's name and number in it. It goes where the browser keeps its downloads.`}
      onClose={props.onClose}
    >
      <Show when={wrong()}>
        <p class="start-report" role="alert">
          ▲ {wrong()}
        </p>
      </Show>
      <Choices
        label={say`Form`}
        choices={props.outputs.map(({ id, name, detail }) => ({ id, name, detail }))}
        onChoose={(id) => void take(id)}
      />
    </Dialog>
  );
}
