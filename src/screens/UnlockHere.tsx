import { Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { isVeiled } from '#session/guard.ts';
import { say } from '#words/say.ts';
import { useSession } from './useSession.ts';

/** Over the holds of a locked tablet: the patient is hidden, and how to see them. Nothing of the work is in its way. */
export function UnlockHere() {
  const { session, state } = useSession();
  return (
    <Show when={isVeiled(state())}>
      <div class="unlock-here">
        <p>{say`■ Locked: the patient is hidden.`}</p>
        <Button kind="plain" onPress={() => void session.confirm(say`Unlock the tablet`)}>
          {say`Unlock`}
        </Button>
      </div>
    </Show>
  );
}
