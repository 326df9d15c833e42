import { For } from 'solid-js';
import { type Role, roles } from '#engine/sheet.ts';
import { Field } from '#parts/Field.tsx';
import type { PageProps } from './form.ts';

const roleNames: Readonly<Record<Role, string>> = {
  scrub: 'Scrub',
  circulator: 'Circulator',
  surgeon: 'Surgeon',
  anaesthetist: 'Anaesthetist',
};

/** Who is in the team, by role. Scrub and circulator are two people. */
export function TeamPage(props: PageProps) {
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
