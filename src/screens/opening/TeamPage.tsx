import { For, Show, untrack } from 'solid-js';
import { type Role, roles } from '#engine/sheet.ts';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import type { PageProps } from './form.ts';
import { writeAtOnce } from './writeAtOnce.ts';

const roleNames = (): Readonly<Record<Role, string>> => ({
  scrub: say`Scrub`,
  circulator: say`Circulator`,
  surgeon: say`Surgeon`,
  anaesthetist: say`Anaesthetist`,
});

/** Who is in the team, by role: a tap on somebody of the unit, or written. Scrub and circulator are two people. */
export function TeamPage(props: PageProps) {
  const { state } = useSession();
  // Who can be tapped by name needs no keyboard over the names.
  const isWritten = untrack(() => state().unit.people.length === 0);
  return (
    <section ref={isWritten ? writeAtOnce : undefined}>
      <h2>{say`Team`}</h2>
      <div class="opening-fields">
        <For each={roles}>
          {(role) => {
            const name = (chosen: string) =>
              props.change({ team: { ...props.form.team, [role]: chosen } });
            return (
              <div>
                <Field
                  kind="text"
                  label={roleNames()[role]}
                  value={props.form.team[role]}
                  error={props.said(role)}
                  onInput={name}
                />
                <OfTheUnit role={role} chosen={props.form.team[role]} onChoose={name} />
              </div>
            );
          }}
        </For>
      </div>
    </section>
  );
}

function OfTheUnit(props: {
  readonly role: Role;
  readonly chosen: string;
  readonly onChoose: (name: string) => void;
}) {
  const { state } = useSession();
  const people = () => state().unit.people.filter((one) => one.roles.includes(props.role));
  return (
    <Show when={people().length > 0}>
      <ChoiceGrid
        label={say`${roleNames()[props.role]} of the unit`}
        choices={people().map(({ name }) => ({ id: name, name }))}
        chosen={[props.chosen]}
        onChoose={props.onChoose}
      />
    </Show>
  );
}
