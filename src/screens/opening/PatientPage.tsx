import { Show } from 'solid-js';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import type { PageProps } from './form.ts';
import { writeAtOnce } from './writeAtOnce.ts';

/** Who the patient is, as the wristband says it, and what they react to. */
export function PatientPage(props: PageProps) {
  return (
    <section ref={writeAtOnce}>
      <h2>{say`Patient`}</h2>
      <div class="opening-fields">
        <Field
          kind="text"
          label={say`Name`}
          hint={say`As on the wristband`}
          value={props.form.name}
          error={props.said('name')}
          onInput={(name) => props.change({ name })}
        />
        <Field
          kind="text"
          label={say`Patient number`}
          value={props.form.number}
          error={props.said('number')}
          onInput={(number) => props.change({ number })}
        />
        <Field
          label={say`Born`}
          kind="date"
          value={props.form.born}
          error={props.said('born')}
          onInput={(born) => props.change({ born })}
        />
        <Field
          label={say`Weight, kg`}
          kind="number"
          hint={say`May be left empty`}
          value={props.form.weight}
          error={props.said('weight')}
          onInput={(weight) => props.change({ weight })}
        />
      </div>
      <Choices
        label={say`Allergies`}
        choices={[
          { id: 'unasked', name: say`Not asked yet` },
          { id: 'none', name: say`None known` },
          { id: 'some', name: say`Known: say which` },
        ]}
        chosen={props.form.allergies}
        onChoose={(id) =>
          props.change({ allergies: id === 'none' || id === 'some' ? id : 'unasked' })
        }
      />
      <Show when={props.form.allergies === 'some'}>
        <Field
          kind="text"
          label={say`Which, with commas between`}
          value={props.form.allergyWords}
          error={props.said('allergies')}
          onInput={(allergyWords) => props.change({ allergyWords })}
        />
      </Show>
    </section>
  );
}
