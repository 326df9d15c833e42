import { createMemo, createSignal, For, Match, Show, Switch } from 'solid-js';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Track, type TrackStop } from '#parts/Track.tsx';
import { say, sayOf } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { NextStep } from '../NextStep.tsx';
import { useCase, useSession } from '../useSession.ts';
import { AddSpecimenDialog } from './AddSpecimenDialog.tsx';
import { ContainStep } from './ContainStep.tsx';
import { HandOverStep } from './HandOverStep.tsx';
import { LabelStep } from './LabelStep.tsx';
import { ReadBackStep } from './ReadBackStep.tsx';
import { TakeStep } from './TakeStep.tsx';
import './specimen.css';

/** A specimen from the field to whoever takes it: out, in its pot, labelled, read back, handed over. */
export function SpecimenScreen(props: { readonly specimen: string }) {
  const { session } = useSession();
  const current = useCase();
  const [isAdding, setAdding] = createSignal(false);
  const specimens = createMemo(() => Object.values(current().specimens));
  const specimen = () => current().specimens[props.specimen] ?? specimens()[0];
  return (
    <CaseShell
      name={say`Specimen`}
      actions={
        <>
          <Button kind="plain" onPress={() => setAdding(true)}>
            {say`New specimen`}
          </Button>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`To the frame`}
          </Button>
          <Show when={!isOnItsWay(specimen())}>
            <NextStep />
          </Show>
        </>
      }
    >
      <Show when={specimen()} fallback={<NoSpecimen onAdd={() => setAdding(true)} />}>
        {(one) => <Steps specimen={one()} all={specimens()} />}
      </Show>
      <Show when={isAdding()}>
        <AddSpecimenDialog onClose={() => setAdding(false)} />
      </Show>
    </CaseShell>
  );
}

/** Out, and not yet where it goes: then nothing else is offered beside its steps. */
const isOnItsWay = (specimen: Specimen | undefined): boolean =>
  specimen !== undefined && specimen.stage !== 'handedOver' && specimen.stage !== 'notTaken';

function NoSpecimen(props: { readonly onAdd: () => void }) {
  return (
    <section class="frame-empty">
      <h2>{say`No specimen yet`}</h2>
      <p>{say`What is taken gets a letter, a pot, a label, and a second person who reads it back.`}</p>
      <Button kind="primary" onPress={props.onAdd}>
        {say`New specimen`}
      </Button>
    </section>
  );
}

function Steps(props: { readonly specimen: Specimen; readonly all: readonly Specimen[] }) {
  const stage = () => props.specimen.stage;
  const isOne = () => props.all.length < 2;
  return (
    <>
      <header class="screen-head">
        <h1 class={isOne() ? undefined : 'visually-hidden'}>
          {say`Specimen ${props.specimen.letter} · ${props.specimen.name}`}
        </h1>
        <Show when={!isOne()}>
          <Tabs all={props.all} shown={props.specimen.id} />
        </Show>
        <p class="quiet">
          {props.specimen.side === 'not applicable'
            ? say`For ${props.specimen.test}`
            : say`For ${props.specimen.test} · side: ${sayOf(props.specimen.side)}`}
        </p>
      </header>
      <Track label={say`The way of the specimen`} stops={trackOf(props.specimen)} />
      <Switch>
        <Match when={stage() === 'planned' || isUnfinished(props.specimen)}>
          <TakeStep specimen={props.specimen} />
        </Match>
        <Match when={stage() === 'taken'}>
          <ContainStep specimen={props.specimen} />
        </Match>
        <Match when={stage() === 'contained'}>
          <LabelStep specimen={props.specimen} />
        </Match>
        <Match when={stage() === 'labelled'}>
          <ReadBackStep specimen={props.specimen} />
        </Match>
        <Match when={stage() === 'readBack'}>
          <HandOverStep specimen={props.specimen} />
        </Match>
        <Match when={stage() === 'handedOver'}>
          <p class="count-done">
            {say`✓ With ${props.specimen.handedTo} since`}{' '}
            <span class="digits-type">{props.specimen.handedAt?.slice(11, 16)}</span>.
          </p>
        </Match>
        <Match when={stage() === 'notTaken'}>
          <p class="count-done">{say`Not taken: ${props.specimen.partReason}`}</p>
        </Match>
      </Switch>
    </>
  );
}

/** The specimens of the case; the one that is shown is pressed. */
function Tabs(props: { readonly all: readonly Specimen[]; readonly shown: string }) {
  const { session } = useSession();
  return (
    <nav class="specimen-tabs" aria-label={say`Specimens`}>
      <For each={props.all}>
        {(one) => (
          <Button
            kind="plain"
            isPressed={one.id === props.shown}
            onPress={() => session.show({ name: 'specimen', about: one.id })}
          >
            {one.letter} · {one.name}
          </Button>
        )}
      </For>
    </nav>
  );
}

/** Out, but its pieces do not make a whole and nobody said why. */
const isUnfinished = (specimen: Specimen): boolean =>
  specimen.stage === 'taken' && specimen.isWhole === false && specimen.partReason === undefined;

const order: readonly Specimen['stage'][] = [
  'planned',
  'taken',
  'contained',
  'labelled',
  'readBack',
  'handedOver',
];

const stageOrder = (stage: Specimen['stage']): number => order.indexOf(stage);

function trackOf(specimen: Specimen): readonly TrackStop[] {
  const reached = stageOrder(specimen.stage);
  const time = (at: string | undefined) => at?.slice(11, 16);
  const said: readonly (readonly [string, string, string | undefined])[] = [
    ['taken', say`Out`, time(specimen.takenAt)],
    ['contained', say`In its pot`, specimen.medium && sayOf(specimen.medium)],
    ['labelled', say`Labelled`, time(specimen.labelledAt)],
    ['readBack', say`Read back`, specimen.readBackBy],
    ['handedOver', say`Handed over`, specimen.handedTo],
  ];
  return said.map(([id, name, words], index) => {
    const state = index < reached ? 'done' : index === reached ? 'here' : 'ahead';
    return { id, name, state, detail: state === 'done' ? words : undefined };
  });
}
