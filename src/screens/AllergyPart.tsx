import { createSignal, Show } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase } from './useSession.ts';

/** What the patient reacts to, written for the band on top of every screen and for the record. */
export function AllergyPart(props: {
  readonly act: (command: Command) => Promise<void>;
  /** What was written may be taken away: it was another patient's, or was heard wrongly. */
  readonly mayEmpty?: boolean;
}) {
  const current = useCase();
  const written = () => (current().patient.allergies ?? []).join(', ');
  const [words, setWords] = createSignal(written());
  const known = () =>
    words()
      .split(',')
      .map((one) => one.trim())
      .filter(Boolean);
  const isEmptied = () => props.mayEmpty === true && written() !== '' && known().length === 0;
  return (
    <>
      <Field
        kind="text"
        label={say`Which, with commas between`}
        value={words()}
        onInput={setWords}
      />
      <div class="row">
        <Show
          when={isEmptied()}
          fallback={
            <Button
              kind="primary"
              whyNot={known().length > 0 ? undefined : say`Say which allergies.`}
              onPress={() => void props.act({ type: 'allergies', known: known() })}
            >
              {say`Write it down`}
            </Button>
          }
        >
          <Button
            kind="danger"
            detail={say`Only if the team has asked again`}
            onPress={() => void props.act({ type: 'allergies', known: [] })}
          >
            {say`Take away: ${written()}`}
          </Button>
        </Show>
      </div>
    </>
  );
}
