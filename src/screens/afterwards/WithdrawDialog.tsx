import { createSignal, Show } from 'solid-js';
import type { WriteNote } from '#engine/notes/events.ts';
import { resultWithdrawnNote } from '#engine/notes/resultSeen.ts';
import { removalWithdrawnNote } from '#engine/notes/takenOut.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import type { SettledCase } from '../recordKit.ts';
import { useSession } from '../useSession.ts';
import { writeInto } from './writeInto.ts';

/** What was settled by mistake, in another patient's record perhaps, is owed again: who says so, and why. */
export function WithdrawDialog(props: {
  readonly settled: SettledCase;
  readonly onClose: () => void;
}) {
  const view = useSession();
  const [by, setBy] = createSignal('');
  const [why, setWhy] = createSignal('');
  const [pieces, setPieces] = createSignal(props.settled.n);
  const isResult = () => props.settled.kind === 'result';

  const entry = (current: Case): WriteNote | undefined => {
    const said = { by: by().trim(), how: why().trim() };
    const specimen = current.specimens[props.settled.about];
    if (isResult()) return specimen && resultWithdrawnNote(specimen, said);
    const line = current.lines.get(props.settled.about);
    return line && removalWithdrawnNote(line, pieces(), said);
  };
  const whyNot = () => {
    if (!by().trim()) return say`Say who.`;
    return why().trim() ? undefined : say`Say why.`;
  };
  return (
    <Dialog
      title={say`Not so: ${props.settled.words}`}
      sentence={say`${props.settled.patient}, ${props.settled.number}. It is owed again; the record keeps both notes.`}
      onClose={props.onClose}
      actions={
        <Button
          kind="primary"
          whyNot={whyNot()}
          onPress={() =>
            void writeInto(view, { caseId: props.settled.caseId, entry, by: by().trim() })
          }
        >
          {isResult() ? say`The result was not seen` : say`${pieces()} not taken out`}
        </Button>
      }
    >
      <Show when={!isResult()}>
        <Stepper
          label={say`Pieces that are still there`}
          value={pieces()}
          max={props.settled.n}
          onChange={setPieces}
        />
      </Show>
      <Field kind="text" label={say`Who says so`} value={by()} onInput={setBy} />
      <Field
        kind="text"
        label={say`Why it was not so`}
        value={why()}
        onInput={setWhy}
        length={300}
      />
    </Dialog>
  );
}
