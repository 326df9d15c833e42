import { Match, Switch } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { useSession } from './useSession.ts';

/** On the first screen: whether this tablet asks for PINs, and whether it is locked now. */
export function UnitBar() {
  const { session, state } = useSession();
  const stage = () => state().unit.stage;
  const toPeople = () => void session.go({ screen: 'people' });
  return (
    <section class="unit-bar" aria-label="People of this unit" data-stage={stage()}>
      <Switch>
        <Match when={stage() === 'none'}>
          <p>◇ This tablet asks nobody for a PIN and keeps cases unencrypted.</p>
          <Button kind="plain" onPress={toPeople}>
            Set up people…
          </Button>
        </Match>
        <Match when={stage() === 'locked'}>
          <p>■ Locked. Names of patients and closed cases need the PIN of somebody of the unit.</p>
          <Button kind="plain" onPress={toPeople}>
            People…
          </Button>
          <Button kind="primary" onPress={() => void session.confirm('Unlock the tablet')}>
            Unlock
          </Button>
        </Match>
        <Match when={stage() === 'lost'}>
          <p>▲ This tablet has lost its own key. The code on paper brings closed cases back.</p>
          <Button kind="primary" onPress={toPeople}>
            People…
          </Button>
        </Match>
        <Match when={stage() === 'open'}>
          <p>□ Open, by a PIN.</p>
          <Button kind="plain" onPress={toPeople}>
            People…
          </Button>
          <Button kind="plain" onPress={session.lock}>
            Lock now
          </Button>
        </Match>
      </Switch>
    </section>
  );
}
