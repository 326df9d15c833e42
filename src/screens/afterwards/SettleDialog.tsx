import { createSignal, Show } from 'solid-js';
import { staysOf } from '#engine/closures/handoverOf.ts';
import type { WriteNote } from '#engine/notes/events.ts';
import { resultSeenNote } from '#engine/notes/resultSeen.ts';
import { removalNote } from '#engine/notes/takenOut.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import type { OwedCase } from '../recordKit.ts';
import { useSession } from '../useSession.ts';
import { writeInto } from './writeInto.ts';

/** By whom a result was seen and what follows, or how many pieces were taken out. It goes into the case's record. */
export function SettleDialog(props: { readonly owed: OwedCase; readonly onClose: () => void }) {
  const view = useSession();
  const [by, setBy] = createSignal('');
  const [words, setWords] = createSignal('');
  const owing = () => Number(/^\d+/.exec(props.owed.words)?.[0] ?? 1);
  const [pieces, setPieces] = createSignal(owing());
  const isResult = () => props.owed.kind === 'result';

  const entry = (current: Case): WriteNote | undefined => {
    const said = { by: by().trim(), how: words().trim() };
    const specimen = current.specimens[props.owed.about];
    if (isResult()) return specimen && resultSeenNote(specimen, said);
    const line = current.lines.get(props.owed.about);
    return line && staysOf(current, line.id) > 0 ? removalNote(line, pieces(), said) : undefined;
  };
  const sentence = () => {
    const { patient, number } = props.owed;
    return isResult()
      ? say`${patient}, ${number}. Compare both with the report.`
      : say`${patient}, ${number}. Compare both with the patient.`;
  };
  const whyNot = () => {
    if (!by().trim()) return say`Say who.`;
    return words().trim()
      ? undefined
      : isResult()
        ? say`Say what follows.`
        : say`Say how, and where.`;
  };
  return (
    <Dialog
      title={isResult() ? say`Result of ${props.owed.words}` : say`Taken out: ${props.owed.words}`}
      sentence={sentence()}
      onClose={props.onClose}
      actions={
        <Button
          kind="primary"
          whyNot={whyNot()}
          onPress={() =>
            void writeInto(view, { caseId: props.owed.caseId, entry, by: by().trim() })
          }
        >
          {isResult() ? say`The result was seen` : say`${pieces()} taken out and counted`}
        </Button>
      }
    >
      <Show when={!isResult()}>
        <Stepper
          label={say`Pieces taken out`}
          value={pieces()}
          max={owing()}
          onChange={setPieces}
        />
      </Show>
      <Field
        kind="text"
        label={isResult() ? say`Seen by` : say`Taken out by`}
        value={by()}
        onInput={setBy}
      />
      <Field
        kind="text"
        label={isResult() ? say`What it says, and what follows` : say`How, and where`}
        value={words()}
        onInput={setWords}
        length={300}
      />
    </Dialog>
  );
}
