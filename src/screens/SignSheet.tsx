import { createSignal, Match, Show, Switch } from 'solid-js';
import { samePerson } from '#engine/people.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { PinPad } from '#parts/PinPad.tsx';
import { personOfBadge } from '#scan/badgeIn.ts';
import { readScan } from '#scan/readScan.ts';
import { type Asking, turnOf } from '#session/asking.ts';
import { personNamed } from '#session/signing.ts';
import { say, sayOf } from '#words/say.ts';
import { useSession } from './useSession.ts';

const reasons = () =>
  [
    { id: 'PIN forgotten', name: say`PIN forgotten` },
    { id: 'Not set up on this tablet', name: say`Not set up on this tablet` },
    { id: 'No time now', name: say`No time now` },
  ] as const;

/** Asks for PINs. */
export function SignSheet(props: { readonly asking: Asking }) {
  const { session, state, scans } = useSession();
  const [chosen, setChosen] = createSignal<string>();
  const [isWithout, setWithout] = createSignal(false);
  const [badge, setBadge] = createSignal<string>();
  const people = () => state().unit.people;
  const name = () => turnOf(props.asking);
  const person = () => {
    const wanted = name();
    if (wanted !== undefined) return personNamed(people(), wanted);
    return people().find(({ id }) => id === chosen());
  };
  const unknown = () => {
    const wanted = name();
    return wanted !== undefined && personNamed(people(), wanted) === undefined ? wanted : undefined;
  };
  // A badge says who stands there; whose PIN it is. It never stands for the PIN.
  scans.take((text) => {
    const shown = personOfBadge(people(), readScan(text, session.now()));
    if (!shown) return false;
    const wanted = name();
    if (wanted === undefined) setChosen(shown.id);
    const isOther = wanted !== undefined && !samePerson(wanted, shown.name);
    setBadge(
      isOther ? say`That is the badge of ${shown.name}. It is the turn of ${wanted}.` : undefined,
    );
    return true;
  });
  const goWithout = (reason: string) => {
    setWithout(false);
    session.without(name() ?? person()?.name ?? 'somebody', reason);
  };
  return (
    <Dialog
      title={props.asking.words}
      sentence={sentenceOf(props.asking)}
      onClose={session.leave}
      actions={
        <>
          <Show when={name() === undefined && chosen() !== undefined}>
            <Button kind="plain" onPress={() => setChosen(undefined)}>
              {say`Somebody else`}
            </Button>
          </Show>
          <Show when={props.asking.canGoWithout}>
            <Button kind="danger" isPressed={isWithout()} onPress={() => setWithout(!isWithout())}>
              {say`Without a PIN…`}
            </Button>
          </Show>
        </>
      }
    >
      <Show when={badge()}>
        <p class="dialog-warning" role="status">
          ◆ {badge()}
        </p>
      </Show>
      <Switch>
        <Match when={isWithout() || unknown()}>
          <p class="dialog-warning">
            ◆ {unknown() ? say`${unknown()} is not set up on this tablet. ` : ''}
            <Show
              when={props.asking.canGoWithout}
              fallback={say`This needs the PIN of somebody of the unit.`}
            >
              {say`It is entered all the same, and the record says that no PIN was given. Why not?`}
            </Show>
          </p>
          <Show when={props.asking.canGoWithout}>
            <ChoiceGrid label={say`Why without a PIN`} choices={reasons()} onChoose={goWithout} />
          </Show>
        </Match>
        <Match when={person()} keyed>
          {(one) => (
            <PinPad
              label={say`PIN of ${one.name}`}
              digits={one.digits || undefined}
              isBusy={props.asking.isChecking}
              said={props.asking.failure}
              onPin={(pin) => void session.give(one.id, pin)}
            />
          )}
        </Match>
        <Match when={name() === undefined}>
          <ChoiceGrid
            label={say`Who confirms`}
            choices={people().map((one) => ({
              id: one.id,
              name: one.name,
              detail: one.roles.map(sayOf).join(', '),
            }))}
            onChoose={setChosen}
          />
        </Match>
      </Switch>
    </Dialog>
  );
}

function sentenceOf({ names, done }: Asking): string {
  if (names.length === 0) return say`Somebody of the unit confirms with a PIN.`;
  const given = done.map((one) => `${one.how === 'pin' ? '✓' : '○'} ${one.name}`);
  const waiting = names.slice(done.length);
  return [...given, ...waiting].join('   ');
}
