import { createSignal, For, Match, Show, Switch } from 'solid-js';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { PinPad } from '#parts/PinPad.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import { NewPin } from './NewPin.tsx';

type Say = { readonly person: string; readonly pin: string };

/** A lost PIN: its person chooses a new one, and two others confirm with theirs. */
export function ResetPin(props: { readonly onClose: () => void }) {
  const { session, state } = useSession();
  const [whose, setWhose] = createSignal<string>();
  const [pin, setPin] = createSignal<string>();
  const [others, setOthers] = createSignal<readonly Say[]>([]);
  const [turn, setTurn] = createSignal<string>();
  const [isBusy, setBusy] = createSignal(false);
  const [said, setSaid] = createSignal<string>();
  const people = () => state().unit.people;
  const nameOf = (id: string | undefined) => people().find((one) => one.id === id)?.name ?? '';
  const free = () =>
    people().filter(
      (one) =>
        one.id !== whose() && one.digits > 0 && !others().some((say) => say.person === one.id),
    );
  const reset = async (chosen: string, by: readonly Say[]) => {
    setBusy(true);
    const done = await session.people.resetPin(whose() ?? '', chosen, by);
    setBusy(false);
    if (done.ok) return props.onClose();
    setSaid(done.sentence);
    setOthers([]);
    setTurn(undefined);
    setPin(undefined);
  };
  const choose = (chosen: string) => {
    if (state().unit.isByCode) void reset(chosen, []);
    else setPin(chosen);
  };
  const give = (person: string, given: string) => {
    const all = [...others(), { person, pin: given }];
    setOthers(all);
    setTurn(undefined);
    if (all.length === 2) void reset(pin() ?? '', all);
  };
  return (
    <Dialog
      title={say`A lost PIN`}
      sentence={
        state().unit.isByCode
          ? say`The code on paper has opened the tablet: a new PIN needs nobody else.`
          : say`Its person chooses a new one. Two others confirm with theirs.`
      }
      onClose={props.onClose}
    >
      <Switch>
        <Match when={whose() === undefined}>
          <ChoiceGrid
            label={say`Whose PIN is lost`}
            choices={people().map(({ id, name }) => ({ id, name }))}
            onChoose={setWhose}
          />
        </Match>
        <Match when={pin() === undefined}>
          <NewPin name={nameOf(whose())} isBusy={isBusy()} said={said()} onPin={choose} />
        </Match>
        <Match when={turn()} keyed>
          {(person) => (
            <PinPad
              label={say`PIN of ${nameOf(person)}`}
              digits={people().find((one) => one.id === person)?.digits}
              onPin={(given) => give(person, given)}
            />
          )}
        </Match>
        <Match when={others().length < 2}>
          <For each={others()}>
            {({ person }) => <p>{say`${nameOf(person)} has given a PIN.`}</p>}
          </For>
          <Show
            when={free().length > 0}
            fallback={
              <p class="dialog-warning">{say`◆ It takes two others who are set up here.`}</p>
            }
          >
            <ChoiceGrid
              label={say`Who confirms`}
              choices={free().map(({ id, name }) => ({ id, name }))}
              onChoose={setTurn}
            />
          </Show>
        </Match>
        <Match when={isBusy()}>
          <p role="status">{say`One moment…`}</p>
        </Match>
      </Switch>
    </Dialog>
  );
}
