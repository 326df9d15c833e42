import { Match, Switch } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';
import { useSession } from './useSession.ts';

/** On the first screen: whether this tablet asks for PINs, and whether it is locked now. */
export function UnitBar() {
  const { session, state } = useSession();
  const stage = () => state().unit.stage;
  const toPeople = () => void session.go({ screen: 'people' });
  return (
    <section class="unit-bar" aria-label={say`People of this unit`} data-stage={stage()}>
      <Switch>
        <Match when={stage() === 'none'}>
          <p>{say`◇ This tablet asks nobody for a PIN and keeps cases unencrypted.`}</p>
          <Button kind="plain" onPress={toPeople}>
            {say`Set up people…`}
          </Button>
        </Match>
        <Match when={stage() === 'locked'}>
          <p>{say`■ Locked. Names of patients and closed cases need the PIN of somebody of the unit.`}</p>
          <Button kind="plain" onPress={toPeople}>
            {say`People…`}
          </Button>
          <Button kind="primary" onPress={() => void session.confirm(say`Unlock the tablet`)}>
            {say`Unlock`}
          </Button>
        </Match>
        <Match when={stage() === 'lost'}>
          <p>{say`▲ This tablet has lost its own key. The code on paper brings closed cases back.`}</p>
          <Button kind="primary" onPress={toPeople}>
            {say`People…`}
          </Button>
        </Match>
        <Match when={stage() === 'open'}>
          <p>{say`□ Open, by a PIN.`}</p>
          <Button kind="plain" onPress={toPeople}>
            {say`People…`}
          </Button>
          <Button kind="plain" onPress={session.lock}>
            {say`Lock now`}
          </Button>
        </Match>
      </Switch>
    </section>
  );
}
