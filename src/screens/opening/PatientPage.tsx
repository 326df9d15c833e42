import { Show } from 'solid-js';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import type { PageProps } from './form.ts';

/** Who the patient is, as the wristband says it, and what they react to. */
export function PatientPage(props: PageProps) {
  return (
    <section>
      <h2>Patient</h2>
      <div class="opening-fields">
        <Field
          kind="text"
          label="Name"
          hint="As on the wristband"
          value={props.form.name}
          error={props.said('name')}
          onInput={(name) => props.change({ name })}
        />
        <Field
          kind="text"
          label="Patient number"
          value={props.form.number}
          error={props.said('number')}
          onInput={(number) => props.change({ number })}
        />
        <Field
          label="Born"
          kind="date"
          value={props.form.born}
          error={props.said('born')}
          onInput={(born) => props.change({ born })}
        />
        <Field
          label="Weight, kg"
          kind="number"
          hint="May be left empty"
          value={props.form.weight}
          error={props.said('weight')}
          onInput={(weight) => props.change({ weight })}
        />
      </div>
      <Choices
        label="Allergies"
        choices={[
          { id: 'unasked', name: 'Not asked yet' },
          { id: 'none', name: 'None known' },
          { id: 'some', name: 'Known: say which' },
        ]}
        chosen={props.form.allergies}
        onChoose={(id) =>
          props.change({ allergies: id === 'none' || id === 'some' ? id : 'unasked' })
        }
      />
      <Show when={props.form.allergies === 'some'}>
        <Field
          kind="text"
          label="Which, with commas between"
          value={props.form.allergyWords}
          error={props.said('allergies')}
          onInput={(allergyWords) => props.change({ allergyWords })}
        />
      </Show>
    </section>
  );
}
