import { createSignal } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase } from './useSession.ts';

/** What the patient reacts to, written for the band on top of every screen and for the record. */
export function AllergyPart(props: { readonly act: (command: Command) => Promise<void> }) {
  const current = useCase();
  const [words, setWords] = createSignal((current().patient.allergies ?? []).join(', '));
  const known = () =>
    words()
      .split(',')
      .map((one) => one.trim())
      .filter(Boolean);
  return (
    <>
      <Field
        kind="text"
        label={say`Which, with commas between`}
        value={words()}
        onInput={setWords}
      />
      <div class="row">
        <Button
          kind="primary"
          whyNot={known().length > 0 ? undefined : say`Say which allergies.`}
          onPress={() => void props.act({ type: 'allergies', known: known() })}
        >
          {say`Write it down`}
        </Button>
      </div>
    </>
  );
}
