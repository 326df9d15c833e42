import { createSignal, For } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { instantText } from '#session/browserPorts.ts';
import { useCase, useSession } from '../useSession.ts';

const minutesAgo = [0, 5, 10, 15, 20, 30, 45, 60, 90] as const;

/** Which antibiotic, and how long ago it was started: the window is computed from that. */
export function DoseControls(props: { readonly onGiven: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [agent, setAgent] = createSignal('');
  const give = async (minutes: number) => {
    const at = instantText(new Date(Date.parse(session.now()) - minutes * 60_000));
    // How much was given is not asked here, and so not recorded: only what somebody said stands in the record.
    const by = current().team.anaesthetist;
    const outcome = await session.send({ type: 'dose', agent: agent(), at }, by);
    if (outcome.ok) props.onGiven();
  };
  return (
    <div class="dose">
      <fieldset class="row" aria-label="Which">
        <For each={current().sheet.medicines}>
          {(medicine) => (
            <Button
              kind="plain"
              isPressed={agent() === medicine.id}
              onPress={() => setAgent(medicine.id)}
            >
              {medicine.name}
            </Button>
          )}
        </For>
      </fieldset>
      <fieldset class="row dose-times" aria-label="Started how long ago">
        <For each={minutesAgo}>
          {(minutes) => (
            <Button
              kind="plain"
              whyNot={agent() ? undefined : 'Say which'}
              onPress={() => void give(minutes)}
            >
              {minutes === 0 ? 'Just now' : `${minutes} min ago`}
            </Button>
          )}
        </For>
      </fieldset>
    </div>
  );
}
