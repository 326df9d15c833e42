import { createSignal, Show } from 'solid-js';
import { type Checkpoint, type Role, roles } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Choices } from '#parts/Choices.tsx';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { useCase, useSession } from '../useSession.ts';
import { whoWords } from '../whoWords.ts';

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
  const people = () =>
    roles.map((role) => ({ id: role, name: current().team[role], detail: whoWords(role) }));
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
          <Show when={current().incisionAt === undefined}>
            <Button kind="plain" onPress={() => session.show({ name: 'brief' })}>
              {say`Team brief`}
            </Button>
          </Show>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`Not yet`}
          </Button>
          <Button kind="primary" onPress={() => void session.send(command(), leader())}>
            {say`Everyone stops: begin`}
          </Button>
        </>
      }
    >
      <header class="screen-head">
        <h1>{props.checkpoint.name}</h1>
        <p class="quiet">{say`${props.checkpoint.steps.length} steps, about a minute, read aloud`}</p>
      </header>
      <h2 class="part-title">{say`Here now, and not doing anything else`}</h2>
      <ChoiceGrid
        label={say`Here now`}
        choices={people()}
        chosen={present()}
        onChoose={(id) => toggle(roles.find((role) => role === id) ?? 'scrub')}
      />
      <Choices
        label={say`Reads aloud`}
        choices={people()}
        chosen={leader()}
        onChoose={(id) => setLeader(roles.find((role) => role === id) ?? 'circulator')}
      />
    </CaseShell>
  );
}
