import { createSignal } from 'solid-js';
import { samePerson } from '#engine/people.ts';
import { type Role, roles } from '#engine/sheet.ts';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';
import { createLabelScan } from './createLabelScan.ts';
import { ScanSays } from './ScanSays.tsx';

/** A second person reads the label back, from the pot. */
export function ReadBackStep(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const second = () =>
    roles.filter((role) => !samePerson(current().team[role], props.specimen.labelledBy ?? ''));
  const [by, setBy] = createSignal<Role>(second()[0] ?? 'surgeon');
  const send = (agrees: boolean) =>
    void session.send(
      {
        type: 'specimen',
        id: props.specimen.id,
        step: 'readBack',
        by: by(),
        agrees,
        ...(agrees ? {} : { reason: reason().trim() }),
      },
      current().team[by()],
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
      <Choices
        label={say`Who reads it back`}
        choices={second().map((id) => ({ id, name: current().team[id], detail: id }))}
        chosen={by()}
        onChoose={(id) => setBy(roles.find((role) => role === id) ?? 'surgeon')}
      />
      <ScanSays said={said()} />
      <div class="row">
        <Button
          kind="primary"
          size={112}
          whyNot={said()?.stops ? say`The label that was scanned is not the right one.` : undefined}
          onPress={() => send(true)}
        >
          {say`Read back, it is so`}
        </Button>
      </div>
      <details class="not-taken">
        <summary>{say`It is not so…`}</summary>
        <Field kind="text" label={say`What is different`} value={reason()} onInput={setReason} />
        <Button
          kind="danger"
          whyNot={reason().trim() ? undefined : say`Say what is different.`}
          onPress={() => send(false)}
        >
          {say`Not so: label it again`}
        </Button>
      </details>
    </div>
  );
}
