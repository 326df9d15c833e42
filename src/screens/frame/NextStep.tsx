import { createMemo, Match, Show, Switch } from 'solid-js';
import { stationOf } from '#engine/case/stationsOf.ts';
import { Button } from '#parts/Button.tsx';
import { nextGate } from '../gates.ts';
import { viewOfStation } from '../stationViews.ts';
import { useCase, useSession } from '../useSession.ts';

/** The one thing that comes next, as the large button of the foot. */
export function NextStep() {
  const { session } = useSession();
  const current = useCase();
  const station = createMemo(() => stationOf(current()));
  const isOperating = () =>
    current().incisionAt !== undefined && current().finishedAt === undefined;
  const isReadyToCut = () =>
    current().incisionAt === undefined && session.canSend({ type: 'incision' });
  const gate = createMemo(() => nextGate(current()));
  const towards = () =>
    session.show(gate() === 'sign-out' ? { name: 'leaving' } : { name: 'closing', about: gate() });
  return (
    <Switch
      fallback={
        <Show when={station()}>
          {(next) => (
            <Button kind="primary" onPress={() => session.show(viewOfStation(next()))}>
              {next().name}
            </Button>
          )}
        </Show>
      }
    >
      <Match when={isOperating()}>
        <Button kind="primary" onPress={towards}>
          {gate() === 'sign-out' ? 'Sign out' : 'Towards closing'}
        </Button>
      </Match>
      <Match when={isReadyToCut()}>
        <Button
          kind="primary"
          onPress={() => void session.send({ type: 'incision' }, current().team.surgeon)}
        >
          Incision now
        </Button>
      </Match>
    </Switch>
  );
}
