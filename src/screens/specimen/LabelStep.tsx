import { createSignal, Show } from 'solid-js';
import type { Role } from '#engine/sheet.ts';
import type { Label } from '#engine/specimens/events.ts';
import { labelFields, labelOf } from '#engine/specimens/labelOf.ts';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Facts } from '#parts/Facts.tsx';
import { Field } from '#parts/Field.tsx';
import { say, sayOf } from '#words/say.ts';
import { CameraButton } from '../CameraButton.tsx';
import { useCase, useSession } from '../useSession.ts';
import { createLabelScan } from './createLabelScan.ts';
import { PrintLabel } from './PrintLabel.tsx';
import { ScanSays } from './ScanSays.tsx';

const fields = [
  'patientName',
  'patientNumber',
  'born',
  'letter',
  'specimenName',
  'site',
  'side',
] as const;

/** The label on the pot, compared with the case. Any difference is refused, with the field named. */
export function LabelStep(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const current = useCase();
  const [by, setBy] = createSignal<Role>('circulator');
  const [on, setOn] = createSignal<'pot' | 'lid'>('pot');
  const [name, setName] = createSignal('');
  const [number, setNumber] = createSignal('');
  const [isTyping, setTyping] = createSignal(false);
  const wanted = () => labelOf(current(), props.specimen);
  const facts = () => [
    ...fields.map((field) => ({ name: capital(labelFields[field]), value: wanted()[field] })),
    { name: say`Taken`, value: wanted().takenAt.slice(0, 16).replace('T', ' ') },
  ];
  const send = (label: Label) =>
    void session.send(
      { type: 'specimen', id: props.specimen.id, step: 'labelled', label, on: on(), by: by() },
      current().team[by()],
    );
  const said = createLabelScan({
    current,
    specimen: () => props.specimen,
    onRight: () => send(wanted()),
  });
  return (
    <div class="label-step">
      <div class="step-form">
        <Facts facts={facts()} />
        <Choices
          label={say`Who labels`}
          choices={(['circulator', 'scrub'] as const).map((id) => ({
            id,
            name: current().team[id],
            detail: sayOf(id),
          }))}
          chosen={by()}
          onChoose={(id) => setBy(id === 'scrub' ? 'scrub' : 'circulator')}
        />
        <Choices
          label={say`Where the label is`}
          choices={[
            { id: 'pot', name: say`On the pot` },
            { id: 'lid', name: say`On the lid` },
          ]}
          chosen={on()}
          onChoose={(id) => setOn(id === 'lid' ? 'lid' : 'pot')}
        />
      </div>
      <div class="step-form">
        <PrintLabel specimen={props.specimen} />
        <ScanSays said={said()} />
        <div class="step-acts">
          <p class="quiet">{say`Scan the label on the pot, or read every field of it:`}</p>
          <Button kind="primary" size={112} onPress={() => send(wanted())}>
            {say`Every field read: the label says this`}
          </Button>
          <Button kind="plain" onPress={() => setTyping(!isTyping())}>
            {say`Type what the label says`}
          </Button>
          <CameraButton />
        </div>
        <Show when={isTyping()}>
          <Field kind="text" label={say`Name on the label`} value={name()} onInput={setName} />
          <Field
            kind="text"
            label={say`Number on the label`}
            value={number()}
            onInput={setNumber}
          />
          <Button
            kind="primary"
            onPress={() =>
              send({ ...wanted(), patientName: name().trim(), patientNumber: number().trim() })
            }
          >
            {say`Compare with the case`}
          </Button>
        </Show>
      </div>
    </div>
  );
}

const capital = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);
