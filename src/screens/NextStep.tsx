import { createMemo, Match, Show, Switch } from 'solid-js';
import { signOut } from '#engine/applies.ts';
import { stationOf } from '#engine/case/stationsOf.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import type { View } from '#session/route.ts';
import { say } from '#words/say.ts';
import { nextGate } from './gates.ts';
import { viewOfStation } from './stationViews.ts';
import { useCaseFields, useSession } from './useSession.ts';

/** The one thing that comes next, as the large button of the foot. */
export function NextStep() {
  const { session, can } = useSession();
  const current = useCaseFields();
  // Asked for before the incision and at the end only, so no memo: one would be worked out at each tap between.
  const station = () => stationOf(current());
  const isOperating = () =>
    current().incisionAt !== undefined && current().finishedAt === undefined;
  const isReadyToCut = () => current().incisionAt === undefined && can({ type: 'incision' });
  const gate = createMemo(() => nextGate(current()));
  const towards = () => session.show(viewTowards(current(), gate()));
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
          {gate() === 'sign-out' ? say`Sign out` : say`Towards closing`}
        </Button>
      </Match>
      <Match when={isReadyToCut()}>
        <Button
          kind="primary"
          onPress={() => void session.send({ type: 'incision' }, current().team.surgeon)}
        >
          {say`Incision now`}
        </Button>
      </Match>
    </Switch>
  );
}

/** Sign out is read at once where nothing else is open before it; otherwise what is open is shown first. */
function viewTowards(current: Case, gate: string): View {
  if (gate !== signOut) return { name: 'closing', about: gate };
  const isAllElse = holdsOf(current, signOut).every(
    ({ code, about }) => code === 'checkpoint-open' && about === signOut,
  );
  const isRead = current.checkpoints[signOut]?.finishedAt !== undefined;
  return isAllElse && !isRead ? { name: 'checkpoint', about: signOut } : { name: 'leaving' };
}
