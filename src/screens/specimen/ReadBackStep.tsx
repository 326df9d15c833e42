import { createSignal, For } from 'solid-js';
import { samePerson } from '#engine/people.ts';
import { type Role, roles } from '#engine/sheet.ts';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { CameraButton } from '../CameraButton.tsx';
import { useCase, useSession } from '../useSession.ts';
import { whoWords } from '../whoWords.ts';
import { createLabelScan } from './createLabelScan.ts';
import { ScanSays } from './ScanSays.tsx';

/** A second person reads the label back, from the pot. */
export function ReadBackStep(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const second = () =>
    roles.filter((role) => !samePerson(current().team[role], props.specimen.labelledBy ?? ''));
  const send = (by: Role, agrees: boolean) =>
    void session.send(
      {
        type: 'specimen',
        id: props.specimen.id,
        step: 'readBack',
        by,
        agrees,
        ...(agrees ? {} : { reason: reason().trim() }),
      },
      current().team[by],
    );
  const said = createLabelScan({
    current,
    specimen: () => props.specimen,
    onRight: () => undefined, // the scan looks, the second person reads
  });
  return (
    <div class="step-form">
      <p>
        {say`Labelled by ${props.specimen.labelledBy}. Somebody else reads the pot aloud: name, number, specimen,
          site and side. The surgeon hears it.`}
      </p>
      <ScanSays said={said()} />
      <div class="row">
        <CameraButton />
      </div>
      <fieldset class="row read-back" aria-label={say`Who reads it back`}>
        <For each={second()}>
          {(role) => (
            <Button
              kind="primary"
              size={112}
              whyNot={
                said()?.stops ? say`The label that was scanned is not the right one.` : undefined
              }
              detail={whoWords(role)}
              onPress={() => send(role, true)}
            >
              {say`${current().team[role]} read it: it is so`}
            </Button>
          )}
        </For>
      </fieldset>
      <details class="not-taken">
        <summary>{say`It is not so…`}</summary>
        <Field kind="text" label={say`What is different`} value={reason()} onInput={setReason} />
        <Button
          kind="danger"
          whyNot={reason().trim() ? undefined : say`Say what is different.`}
          onPress={() => send(second()[0] ?? 'surgeon', false)}
        >
          {say`Not so: label it again`}
        </Button>
      </details>
    </div>
  );
}
