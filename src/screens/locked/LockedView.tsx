import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { useSession } from '../useSession.ts';

/** In place of what shows the patient, on a locked tablet. What holds stays beside it. */
export function LockedView() {
  const { session } = useSession();
  return (
    <CaseShell
      name={say`Locked`}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`To the frame`}
          </Button>
          <Button kind="primary" onPress={() => void session.confirm(say`Unlock the tablet`)}>
            {say`Unlock`}
          </Button>
        </>
      }
    >
      <header class="screen-head">
        <h1>{say`This shows the patient, and the tablet is locked`}</h1>
        <p class="quiet">
          {say`Somebody of the unit gives a PIN. The frame and the counts go on without.`}
        </p>
      </header>
    </CaseShell>
  );
}
