import { createSignal, For } from 'solid-js';
import { type Checkpoint, type Role, roles } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { CaseShell } from '../CaseShell.tsx';
import { useCase, useSession } from '../useSession.ts';
import { whoWords } from './stepView.ts';

/** Who leads and who is here: a checkpoint is not a list that somebody fills in alone. */
export function BeginCheckpoint(props: { readonly checkpoint: Checkpoint }) {
  const { session } = useSession();
  const current = useCase();
  const [leader, setLeader] = createSignal<Role>(props.checkpoint.leader);
  const [present, setPresent] = createSignal<readonly Role[]>(props.checkpoint.present);
  const toggle = (role: Role) =>
    setPresent(
      present().includes(role) ? present().filter((one) => one !== role) : [...present(), role],
    );
  const command = () =>
    ({
      type: 'beginCheckpoint',
      id: props.checkpoint.id,
      leader: leader(),
      present: present(),
    }) as const;
  return (
    <CaseShell
      name={props.checkpoint.name}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            Not yet
          </Button>
          <Button kind="primary" onPress={() => void session.send(command(), leader())}>
            Everyone stops: begin
          </Button>
        </>
      }
    >
      <header class="screen-head">
        <h1>{props.checkpoint.name}</h1>
        <p class="quiet">{props.checkpoint.steps.length} steps, about a minute, read aloud</p>
      </header>
      <fieldset class="choices">
        <legend>Here now, and not doing anything else</legend>
        <div class="choices-grid">
          <For each={roles}>
            {(role) => (
              <button
                type="button"
                class="choice"
                data-present={role}
                aria-pressed={present().includes(role)}
                onClick={() => toggle(role)}
              >
                <strong>{current().team[role]}</strong>
                <span>{whoWords(role)}</span>
              </button>
            )}
          </For>
        </div>
      </fieldset>
      <fieldset class="choices">
        <legend>Reads aloud</legend>
        <div class="choices-grid">
          <For each={roles}>
            {(role) => (
              <button
                type="button"
                class="choice"
                data-leader={role}
                aria-pressed={leader() === role}
                onClick={() => setLeader(role)}
              >
                <strong>{current().team[role]}</strong>
                <span>{whoWords(role)}</span>
              </button>
            )}
          </For>
        </div>
      </fieldset>
    </CaseShell>
  );
}
