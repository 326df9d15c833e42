import { createMemo, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { DoseControls } from '../DoseControls.tsx';
import { type NextDose, nextDoses } from '../doseWords.ts';
import { useCase, useSession } from '../useSession.ts';
import './dose.css';

/** Antibiotics: what was given, when the next is due by the table, and what the table gives this patient. */
export function DoseScreen() {
  const { session, now } = useSession();
  const current = useCase();
  const doses = createMemo(() => nextDoses(current(), now()));
  const meant = () =>
    doses().find(({ state }) => state === 'due' || state === 'soon') ?? doses()[0];
  const toFrame = () => session.show({ name: 'frame' });
  return (
    <CaseShell
      name={say`Antibiotic`}
      actions={
        <Button kind="primary" onPress={toFrame}>
          {say`To the counting frame`}
        </Button>
      }
    >
      <header class="screen-head">
        <h1>{say`Antibiotic`}</h1>
        <p class="quiet">
          {say`An aid to remember. The anaesthetist decides whether, what and how much.`}
        </p>
      </header>
      <Show when={doses().length > 0} fallback={<p>{say`No dose is recorded in this case.`}</p>}>
        <ul class="next-doses">
          <For each={doses()}>{(dose) => <GivenDose dose={dose} />}</For>
        </ul>
      </Show>
      <h2 class="part-title">{say`Given: which, and how long ago it was started`}</h2>
      <DoseControls agent={meant()?.agent} onGiven={toFrame} />
    </CaseShell>
  );
}

function GivenDose(props: { readonly dose: NextDose }) {
  return (
    <li class="next-dose" data-state={props.dose.state}>
      <strong class="next-dose-name">{props.dose.name}</strong>
      <span class="quiet">{say`started ${props.dose.startedAt.slice(11, 16)}`}</span>
      <strong class="next-dose-said">
        {props.dose.state === 'due' ? '▲ ' : ''}
        {props.dose.said}
      </strong>
      <span class="next-dose-how">{props.dose.how}</span>
    </li>
  );
}
