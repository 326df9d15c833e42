import { createMemo, createSignal, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { instantText } from '#session/browserPorts.ts';
import { isFromPaper } from '#session/core.ts';
import { say } from '#words/say.ts';
import { doseCaution, tableWords } from './doseWords.ts';
import './DoseControls.css';
import { useCase, useSession } from './useSession.ts';

const minutesAgo = [0, 5, 10, 15, 20, 30, 45, 60, 90] as const;

/** Which antibiotic, and how long ago it was started: the window is computed from that. */
export function DoseControls(props: {
  /** The medicine that is meant until another is chosen. */
  readonly agent?: string | undefined;
  readonly onGiven: () => void;
}) {
  const { session, state } = useSession();
  const current = useCase();
  const [other, setAgent] = createSignal<string>();
  const agent = () => other() ?? props.agent ?? '';
  const [isAsking, setAsking] = createSignal(false);
  const atHand = () => current().sheet.medicines.filter((one) => one.isAtHand);
  /** One that has no key of its own is shown on the key that leads to the list. */
  const listed = () =>
    current().sheet.medicines.find((one) => one.id === agent() && !one.isAtHand)?.name;
  const keyWords = () => {
    const name = listed();
    if (name !== undefined) return `${name}…`;
    return atHand().length > 0 ? say`Another…` : `${say`Which`}…`;
  };
  const choose = (id: string) => {
    setAgent(id);
    setAsking(false);
  };
  const give = async (minutes: number) => {
    const { paperTime } = state();
    // On paper "20 min ago" is before the time that stands there.
    const from = isFromPaper(state()) && paperTime?.includes('T') ? paperTime : session.now();
    const at = instantText(new Date(Date.parse(from) - minutes * 60_000));
    // How much was given is not asked here, and so not recorded: only what somebody said stands in the record.
    const by = current().team.anaesthetist;
    const outcome = await session.send({ type: 'dose', agent: agent(), at }, by);
    if (outcome.ok) props.onGiven();
  };
  return (
    <div class="dose">
      <div class="dose-what">
        <fieldset class="row dose-which" aria-label={say`Which`}>
          <For each={atHand()}>
            {(one) => (
              <Button kind="plain" isPressed={agent() === one.id} onPress={() => choose(one.id)}>
                {one.name}
              </Button>
            )}
          </For>
          <Button kind="plain" isPressed={listed() !== undefined} onPress={() => setAsking(true)}>
            {keyWords()}
          </Button>
        </fieldset>
        <TableDose agent={agent()} />
      </div>
      <p class="dose-asked" aria-hidden="true">{say`Started how long ago`}</p>
      <fieldset class="row dose-times" aria-label={say`Started how long ago`}>
        <For each={minutesAgo}>
          {(minutes) => (
            <Button
              kind="plain"
              whyNot={agent() ? undefined : say`Say which`}
              onPress={() => void give(minutes)}
            >
              {minutes === 0 ? say`Just now` : say`${minutes} min`}
            </Button>
          )}
        </For>
      </fieldset>
      <Show when={isAsking()}>
        <Dialog title={say`Which antibiotic?`} onClose={() => setAsking(false)}>
          <ChoiceGrid label={say`Which`} choices={current().sheet.medicines} onChoose={choose} />
        </Dialog>
      </Show>
    </div>
  );
}

/** What the table gives this patient: to be read out and decided on, never a number that is guessed. */
function TableDose(props: { readonly agent: string }) {
  const { now } = useSession();
  const current = useCase();
  const words = createMemo(() => {
    const medicine = current().sheet.medicines.find((one) => one.id === props.agent);
    return medicine && tableWords(current(), medicine, now());
  });
  return (
    <Show
      when={words()}
      fallback={
        // As high as what will stand here: the keys below keep their place when one is chosen.
        <div class="dose-table">
          <p class="dose-how">{say`What the table gives stands here once it is said which.`}</p>
        </div>
      }
    >
      {(table) => (
        <div class="dose-table" data-known={table().isKnown ? 'yes' : 'no'}>
          <p class="dose-said">
            {table().isKnown ? say`In the table: ` : '▲ '}
            <strong>{table().said}</strong>
          </p>
          <p class="dose-how">{table().how}</p>
          <p class="dose-how">{doseCaution()}</p>
        </div>
      )}
    </Show>
  );
}
