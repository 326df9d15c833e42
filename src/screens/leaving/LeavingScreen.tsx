import { createMemo, createSignal, For, Show } from 'solid-js';
import { signOut } from '#engine/applies.ts';
import { holdsOf, isGateDone } from '#engine/closures/holdsOf.ts';
import { exceptionsOf, verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { isXrayOwed } from '#engine/discrepancies/isXrayOwed.ts';
import { Button } from '#parts/Button.tsx';
import { Headline } from '#parts/Headline.tsx';
import { say, sayOf } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { openCards } from '../holdCards.ts';
import { TurnedUp } from '../TurnedUp.tsx';
import { useCase, useSession } from '../useSession.ts';
import { XrayDialog } from '../XrayDialog.tsx';
import { DeferDialog } from './DeferDialog.tsx';
import { HandoverForm } from './HandoverForm.tsx';

/** Before the patient leaves: what is handed over, what is owed, sign out, and the end of the case. */
export function LeavingScreen() {
  const { session } = useSession();
  const current = useCase();
  const [asking, setAsking] = createSignal<'xray' | 'defer'>();
  const open = createMemo(() => openCards(current(), holdsOf(current(), signOut)).length);
  const isSignedOut = () => isGateDone(current(), signOut);
  const isFinished = () => current().finishedAt !== undefined;
  const finish = async () => {
    const outcome = await session.send({ type: 'finish' }, current().team.circulator);
    if (outcome.ok) session.show({ name: 'record' }, 'go-on');
  };
  return (
    <CaseShell
      name={say`Leaving the theatre`}
      actions={
        <>
          <Show when={!isFinished()}>
            <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
              {say`To the frame`}
            </Button>
          </Show>
          <Button kind="plain" onPress={() => session.show({ name: 'record' })}>
            {say`Record`}
          </Button>
          <Show when={!isSignedOut()}>
            <Button
              kind="primary"
              onPress={() => session.show({ name: 'checkpoint', about: signOut })}
            >
              {say`Sign out`}
            </Button>
          </Show>
          <Show when={isSignedOut() && !isFinished()}>
            <Button kind="primary" size={112} onPress={() => void finish()}>
              {say`End the case`}
            </Button>
          </Show>
        </>
      }
    >
      <Headline
        words={headline(isFinished(), isSignedOut(), open())}
        tone={open() > 0 ? 'held' : 'agreed'}
      />
      <Show when={isFinished()}>
        <p class="count-done">{sayOf(verdictWords[verdictOf(current())])}</p>
      </Show>
      <Show when={isXrayOwed(current())}>
        <section class="leaving-part">
          <h2 class="part-title">{say`▲ An X-ray is owed`}</h2>
          <div class="row">
            <Button kind="primary" onPress={() => setAsking('xray')}>
              {say`Film read…`}
            </Button>
            <Show when={!isFinished() && current().deferral === undefined}>
              <Button kind="danger" onPress={() => setAsking('defer')}>
                {say`Patient unstable…`}
              </Button>
            </Show>
          </div>
        </section>
      </Show>
      <TurnedUp act={async (command) => void (await session.send(command))} />
      <Show when={!isFinished()}>
        <HandoverForm />
      </Show>
      <Exceptions />
      <Show when={asking() === 'xray'}>
        <XrayDialog onClose={() => setAsking(undefined)} />
      </Show>
      <Show when={asking() === 'defer'}>
        <DeferDialog onClose={() => setAsking(undefined)} />
      </Show>
    </CaseShell>
  );
}

function headline(isFinished: boolean, isSignedOut: boolean, open: number): string {
  if (isFinished) return say`The case has ended.`;
  if (isSignedOut) return say`Signed out. End the case when the patient leaves.`;
  if (open === 0) return say`Nothing open that I know of. Sign out together.`;
  return open === 1 ? say`Not yet. One thing is open.` : say`Not yet. ${open} things are open.`;
}

/** What the record will say beside its verdict. */
function Exceptions() {
  const current = useCase();
  const exceptions = createMemo(() => exceptionsOf(current()));
  return (
    <Show when={exceptions().length > 0}>
      <section class="leaving-part">
        <h2 class="part-title">{say`The record will say`}</h2>
        <ul class="plain-list">
          <For each={exceptions()}>{(one) => <li>{one.sentence}</li>}</For>
        </ul>
      </section>
    </Show>
  );
}
