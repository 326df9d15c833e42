import { createMemo, createSignal, Show } from 'solid-js';
import { checkpointOf, signOut, stepsOf } from '#engine/applies.ts';
import { stationOf } from '#engine/case/stationsOf.ts';
import { openSteps } from '#engine/checkpoints/openSteps.ts';
import type { Checkpoint } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { StepList } from '#parts/StepList.tsx';
import type { View } from '#session/route.ts';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { ReopenDialog } from '../ReopenDialog.tsx';
import { viewOfStation } from '../stationViews.ts';
import { useCase, useSession } from '../useSession.ts';
import { AnswerControls } from './AnswerControls.tsx';
import { BeginCheckpoint } from './BeginCheckpoint.tsx';
import { StepDialog } from './StepDialog.tsx';
import { stepView } from './stepView.ts';

/** A checkpoint, read aloud by one person: one step large, who answers, the answer given. */
export function CheckpointScreen(props: { readonly checkpoint: string }) {
  const current = useCase();
  const checkpoint = createMemo(() => checkpointOf(current(), props.checkpoint));
  const state = () => current().checkpoints[props.checkpoint];
  return (
    <Show when={checkpoint()} fallback={<NotHere />}>
      {(known) => (
        <Show when={state()?.begun} fallback={<BeginCheckpoint checkpoint={known()} />}>
          <Steps checkpoint={known()} />
        </Show>
      )}
    </Show>
  );
}

function NotHere() {
  const { session } = useSession();
  return (
    <CaseShell name={say`Checkpoint`} actions={<span />}>
      <h1>{say`This checkpoint is not part of the case`}</h1>
      <Button kind="primary" onPress={() => session.show({ name: 'frame' })}>
        {say`To the counting frame`}
      </Button>
    </CaseShell>
  );
}

function Steps(props: { readonly checkpoint: Checkpoint }) {
  const { session, now } = useSession();
  const current = useCase();
  const [chosen, setChosen] = createSignal<string>();
  const [isReopening, setReopening] = createSignal(false);
  const [asking, setAsking] = createSignal<'open' | 'not-applicable'>();
  const steps = createMemo(() => stepsOf(current(), props.checkpoint));
  const state = () => current().checkpoints[props.checkpoint.id];
  const isFinished = () => state()?.finishedAt !== undefined;
  const waiting = createMemo(() => openSteps(current(), props.checkpoint, now()));
  const here = createMemo(() => {
    const stepHere = steps().find((step) => step.id === chosen());
    return isFinished() ? undefined : (stepHere ?? waiting()[0]);
  });
  const leader = () => state()?.leader ?? '';
  const sentence = () => {
    const { finishedAt, fast } = state() ?? {};
    if (!finishedAt) return say`${leader()} reads aloud · everyone stops`;
    return say`Finished at ${finishedAt.slice(11, 16)}${fast ? say`, faster than it can be said` : ''}`;
  };
  const views = createMemo(() =>
    steps().map((step) =>
      stepView(current(), { checkpoint: props.checkpoint.id, step, now: now() }, here()),
    ),
  );
  const finish = async () => {
    const { id } = props.checkpoint;
    const outcome = await session.send({ type: 'finishCheckpoint', id }, leader());
    if (outcome.ok && id !== signOut) session.show(viewAfter(current()));
    if (outcome.ok && id === signOut) session.show({ name: 'leaving' });
  };
  return (
    <CaseShell
      name={props.checkpoint.name}
      actions={
        <Show
          when={!isFinished()}
          fallback={
            <>
              <Button kind="danger" onPress={() => setReopening(true)}>
                {say`Reopen…`}
              </Button>
              <Button kind="primary" onPress={() => session.show({ name: 'frame' })}>
                {say`To the counting frame`}
              </Button>
            </>
          }
        >
          <Show when={here()?.mayNotApply}>
            <Button kind="plain" onPress={() => setAsking('not-applicable')}>
              {say`Not applicable…`}
            </Button>
          </Show>
          <Button
            kind="danger"
            whyNot={here() ? undefined : say`Every step is answered.`}
            onPress={() => setAsking('open')}
          >
            {say`Leave it open…`}
          </Button>
          <Button kind="primary" whyNot={stillOpen(waiting().length)} onPress={() => void finish()}>
            {say`${props.checkpoint.name} finished`}
          </Button>
        </Show>
      }
    >
      <StepList
        title={props.checkpoint.name}
        sentence={sentence()}
        steps={views()}
        onOpen={isFinished() ? undefined : setChosen}
      >
        <Show when={here()} keyed>
          {(step) => (
            <AnswerControls
              checkpoint={props.checkpoint.id}
              step={step}
              onAnswered={() => setChosen(undefined)}
            />
          )}
        </Show>
      </StepList>
      <Show when={isReopening()}>
        <ReopenDialog
          name={props.checkpoint.name}
          sentence={say`Its answers stay; it has to be finished again.`}
          command={(reason) => ({ type: 'reopenCheckpoint', id: props.checkpoint.id, reason })}
          by={current().team.circulator}
          onClose={() => setReopening(false)}
        />
      </Show>
      <Show when={asking()} keyed>
        {(kind) => (
          <Show when={here()} keyed>
            {(step) => (
              <StepDialog
                checkpoint={props.checkpoint}
                step={step}
                kind={kind}
                onClose={() => {
                  setAsking(undefined);
                  setChosen(undefined);
                }}
              />
            )}
          </Show>
        )}
      </Show>
    </CaseShell>
  );
}

/** The first count is made at the table that was just laid: nothing else stands between. Otherwise the frame. */
function viewAfter(current: Case): View {
  const next = stationOf(current);
  return next?.kind === 'first-count' ? viewOfStation(next) : { name: 'frame' };
}

function stillOpen(steps: number): string | undefined {
  if (steps === 0) return undefined;
  return steps === 1 ? say`1 answer is still open.` : say`${steps} answers are still open.`;
}
