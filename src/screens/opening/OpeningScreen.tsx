import { createMemo, createSignal, For, Show } from 'solid-js';
import { type Role, roles, type Sheet, type Variant } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import { useSession } from '../useSession.ts';
import { groupWords } from '../variantGroups.ts';
import { emptyForm, type FieldName, type OpeningForm, patientOf, wrongIn } from './form.ts';

/** Opening a case: sheet, variant, patient, team. Everything that is wrong is said beside its field. */
export function OpeningScreen(props: { readonly sheets: readonly Sheet[] }) {
  const { session, state } = useSession();
  const [form, setForm] = createSignal(emptyForm(props.sheets[0]?.id ?? ''));
  const [isTried, setTried] = createSignal(false);
  const change = (part: Partial<OpeningForm>) => setForm({ ...form(), ...part });
  const sheet = () => props.sheets.find((one) => one.id === form().sheet);
  const wrong = createMemo(() => wrongIn(form(), session.now()));
  const said = (field: FieldName) => (isTried() ? wrong()[field] : undefined);
  let main: HTMLElement | undefined;
  const open = async () => {
    setTried(true);
    const chosen = sheet();
    if (!chosen || Object.keys(wrong()).length > 0) {
      main?.querySelector('input[aria-invalid="true"]')?.scrollIntoView({ block: 'center' });
      return;
    }
    const { team, variants, practice } = form();
    await session.begin({
      sheet: chosen,
      patient: patientOf(form()),
      team: trimmed(team),
      variants: Object.values(variants),
      practice,
    });
  };
  return (
    <div class="opening">
      <header class="opening-head">
        <h1>Start a case</h1>
      </header>
      <main class="opening-main" ref={main}>
        <section>
          <h2>Operation</h2>
          <Choices
            label="Sheet"
            choices={props.sheets.map((one) => ({
              id: one.id,
              name: one.title,
              detail: one.version,
            }))}
            chosen={form().sheet}
            onChoose={(id) => change({ sheet: id, variants: {} })}
          />
          <Show when={sheet()}>
            {(chosen) => <VariantChoices sheet={chosen()} form={form()} change={change} />}
          </Show>
        </section>
        <PatientFields form={form()} change={change} said={said} />
        <TeamFields form={form()} change={change} said={said} />
      </main>
      <footer class="opening-foot">
        <p class="opening-said" role="status">
          <Show when={state().notSaved}>{(sentence) => <>▲ {sentence()} </>}</Show>
          <Show when={isTried() && Object.keys(wrong()).length > 0}>
            ▲ {Object.values(wrong())[0]}
            {Object.keys(wrong()).length > 1 ? ` And ${Object.keys(wrong()).length - 1} more.` : ''}
          </Show>
        </p>
        <div class="row">
          <Show when={state().notSaved}>
            <Button kind="danger" onPress={() => void session.retry()}>
              Save again
            </Button>
          </Show>
          <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
            Leave it
          </Button>
          <Button kind="primary" onPress={() => void open()}>
            Open the case
          </Button>
        </div>
      </footer>
    </div>
  );
}

const trimmed = (team: OpeningForm['team']): OpeningForm['team'] => ({
  scrub: team.scrub.trim(),
  circulator: team.circulator.trim(),
  surgeon: team.surgeon.trim(),
  anaesthetist: team.anaesthetist.trim(),
});

type PartProps = {
  readonly form: OpeningForm;
  readonly change: (part: Partial<OpeningForm>) => void;
  readonly said: (field: FieldName) => string | undefined;
};

function VariantChoices(props: Omit<PartProps, 'said'> & { readonly sheet: Sheet }) {
  const groups = () => [...new Set(props.sheet.variants.map((variant) => variant.group))];
  const of = (group: string): readonly Variant[] =>
    props.sheet.variants.filter((variant) => variant.group === group);
  return (
    <For each={groups()}>
      {(group) => (
        <Choices
          label={groupWords(group)}
          choices={of(group).map(({ id, name }) => ({ id, name }))}
          chosen={props.form.variants[group] ?? of(group)[0]?.id}
          onChoose={(id) => props.change({ variants: { ...props.form.variants, [group]: id } })}
        />
      )}
    </For>
  );
}

function PatientFields(props: PartProps) {
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

const roleNames: Readonly<Record<Role, string>> = {
  scrub: 'Scrub',
  circulator: 'Circulator',
  surgeon: 'Surgeon',
  anaesthetist: 'Anaesthetist',
};

function TeamFields(props: PartProps) {
  return (
    <section>
      <h2>Team</h2>
      <div class="opening-fields">
        <For each={roles}>
          {(role) => (
            <Field
              kind="text"
              label={roleNames[role]}
              value={props.form.team[role]}
              error={props.said(role)}
              onInput={(name) => props.change({ team: { ...props.form.team, [role]: name } })}
            />
          )}
        </For>
      </div>
    </section>
  );
}
