import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';
import { saveFile } from './saveFile.ts';
import { useSession } from './useSession.ts';

/** Something of ours went wrong: recording has stopped, and what was saved is safe. */
export function FaultScreen() {
  const { session, state } = useSession();
  const take = async () => {
    const caseId = state().current?.id;
    const text = caseId && (await session.exportCase(caseId));
    if (text) saveFile(text, `lastlook-${caseId}.txt`, 'text/plain');
  };
  return (
    <main class="plain-screen">
      <h1>{say`Recording has stopped`}</h1>
      <p>
        {say`The program found a mistake of its own and stopped, so that nothing wrong is written. Everything that
          was shown as saved is on this tablet. Go on counting on paper, and start the program again.`}
      </p>
      <p class="quiet">{state().fault}</p>
      <div class="row">
        <Button kind="primary" onPress={() => location.reload()}>
          {say`Start again`}
        </Button>
        <Button kind="plain" onPress={() => void take()}>
          {say`Take the record out as a file`}
        </Button>
      </div>
    </main>
  );
}
