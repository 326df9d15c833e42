import { createEffect, createMemo, createSignal, For, on, Show } from 'solid-js';
import { momentName } from '#engine/closures/holdsOf.ts';
import { type MomentId, momentIds } from '#engine/sheet.ts';
import type { RunningCount } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { CountLines } from '#parts/CountLines.tsx';
import { Digits } from '#parts/Digits.tsx';
import { Foot } from '#parts/Foot.tsx';
import { CaseShell } from '../CaseShell.tsx';
import { useCase, useSession } from '../useSession.ts';
import { linesOfPass, type Pass } from './pass.ts';

/** A count: two people, aloud, one tap a line. What the record expects is not in the page until both agreed. */
export function CountScreen(props: { readonly moment: string }) {
  const current = useCase();
  const moment = (): MomentId => momentIds.find((known) => known === props.moment) ?? 'extra';
  return (
    <Show when={current().counts.running} fallback={<BeforeCount moment={moment()} />}>
      {(running) => <Counting running={running()} />}
    </Show>
  );
}

function BeforeCount(props: { readonly moment: MomentId }) {
  const { session } = useSession();
  const current = useCase();
  const done = () => current().counts.done[props.moment];
  const begin = () => void session.send({ type: 'beginCount', moment: props.moment }, 'circulator');
  const broken = () => current().counts.broken;
  const can = () => session.canSend({ type: 'beginCount', moment: props.moment });
  const differing = () => Object.keys(current().differing).length;
  const againWords = () =>
    current().sheet.policy.interruptedCount === 'class'
      ? 'An interrupted count starts again with the kind that was being counted.'
      : 'An interrupted count starts again from the beginning.';
  return (
    <CaseShell
      name={momentName(current(), props.moment)}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            To the frame
          </Button>
          <Show when={differing() > 0}>
            <Button kind="primary" onPress={() => session.show({ name: 'recount' })}>
              Count again what did not agree
            </Button>
          </Show>
          <Button kind={can() ? 'primary' : 'plain'} onPress={begin}>
            {done() ? 'Count again from the start' : 'Begin the count'}
          </Button>
        </>
      }
    >
      <header class="screen-head">
        <h1>{momentName(current(), props.moment)}</h1>
        <p class="quiet">
          {current().team.scrub} and {current().team.circulator}, together, aloud, seeing every
          piece
        </p>
      </header>
      <Show when={broken()}>
        {(why) => (
          <p class="start-report">
            ◆ The count was broken off. {why().reason} {againWords()}
          </p>
        )}
      </Show>
      <Show
        when={done()}
        fallback={
          <ul class="plain-list">
            <li>
              Swabs, sharps, small items, instruments; the field and the table, then what is off the
              field.
            </li>
            <li>
              Each piece is separated and seen. A pack that does not hold its number is set aside
              whole.
            </li>
            <li>What the record expects stays hidden until there is a number for every line.</li>
            <li>{againWords()}</li>
          </ul>
        }
      >
        {(count) => (
          <p class="count-done">
            ✓ Counted at <span class="digits-type">{count().at.slice(11, 16)}</span> by{' '}
            {count().by.join(' and ')}, {count().lines} lines.
          </p>
        )}
      </Show>
    </CaseShell>
  );
}

function Counting(props: { readonly running: RunningCount }) {
  const { session } = useSession();
  const current = useCase();
  const [pass, setPass] = createSignal<Pass>('field');
  const [chosen, setChosen] = createSignal<string>();
  // After a restart in the middle, what was counted off the field is not asked again.
  const [seenOff, setSeenOff] = createSignal<readonly string[]>(countedOff(props.running));
  const lines = createMemo(() => linesOfPass(current(), props.running, pass()), undefined, {
    equals: (one, other) => one.join() === other.join(),
  });
  const off = createMemo(() => linesOfPass(current(), props.running, 'off'));
  const found = (line: string) => props.running.found[line];
  const isDone = (line: string) =>
    pass() === 'field' ? found(line) !== undefined : seenOff().includes(line);
  const here = createMemo(() => {
    const picked = chosen();
    if (picked && lines().includes(picked)) return picked;
    return lines().find((line) => !isDone(line));
  });
  const isAll = () => here() === undefined && off().every((line) => seenOff().includes(line));
  createEffect(
    on(here, (line) => {
      if (line === undefined && pass() === 'field' && off().length > 0) setPass('off');
    }),
  );
  const enter = async (pieces: number) => {
    const line = here();
    if (!line) return;
    const before = found(line);
    const said =
      pass() === 'field'
        ? { field: pieces, off: before?.off ?? 0 }
        : { field: before?.field ?? 0, off: pieces };
    if (pass() === 'off') setSeenOff([...new Set([...seenOff(), line])]);
    setChosen(undefined);
    await session.send({ type: 'enter', line, ...said }, 'circulator');
  };
  const [begun, setBegun] = createSignal('');
  const rows = () =>
    lines().map((line) => {
      const known = current().lines.get(line);
      const entered = isDone(line) ? found(line)?.[pass()] : undefined;
      return { id: line, name: known?.name ?? line, entered };
    });
  const parts = () => {
    const first = pass() === 'field';
    const parts_ = [
      { id: 'field', label: 'Field and table', state: first ? 'here' : 'done' },
    ] as const;
    if (off().length === 0) return parts_;
    return [
      ...parts_,
      { id: 'off', label: 'Off the field', state: first ? 'ahead' : 'here' },
    ] as const;
  };
  const progress = () => {
    const at = here() === undefined ? lines().length : lines().indexOf(here() ?? '') + 1;
    return `Line ${at} of ${lines().length} · count aloud together`;
  };
  const back = () => {
    const list = lines();
    const at = here() ? list.indexOf(here() ?? '') : list.length;
    if (at > 0) setChosen(list[at - 1]);
  };
  return (
    <CaseShell
      name={momentName(current(), props.running.moment)}
      aside={<CountAside running={props.running} onRestart={() => setSeenOff([])} />}
      foot={
        <Show
          when={isAll()}
          fallback={
            <div class="digits-foot">
              <Digits
                onNumber={(pieces) => void enter(pieces)}
                onBack={back}
                canGoBack={lines().indexOf(here() ?? '') > 0}
                onBegun={setBegun}
              />
            </div>
          }
        >
          <AgreeFoot running={props.running} onBack={back} />
        </Show>
      }
    >
      <CountLines
        parts={parts()}
        lines={rows()}
        currentId={here()}
        begun={begun()}
        progress={progress()}
        onOpen={setChosen}
      />
    </CaseShell>
  );
}

const countedOff = ({ found }: RunningCount): readonly string[] =>
  Object.keys(found).filter((line) => (found[line]?.off ?? 0) > 0);

function CountAside(props: { readonly running: RunningCount; readonly onRestart: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const restart = async () => {
    props.onRestart();
    const { moment } = props.running;
    await session.send({ type: 'abandon', reason: 'Interrupted.' }, 'circulator');
    await session.send({ type: 'beginCount', moment }, 'circulator');
  };
  const leave = async () => {
    await session.send({ type: 'abandon', reason: 'Broken off.' }, 'circulator');
    session.show({ name: 'frame' });
  };
  return (
    <section class="count-aside">
      <h2>{momentName(current(), props.running.moment)}</h2>
      <p>
        <strong>Scrub</strong> {props.running.scrub}
      </p>
      <p>
        <strong>Circulator</strong> {props.running.circulator}
      </p>
      <Show
        when={props.running.moment !== 'first'}
        fallback={
          <p class="quiet">
            The first count starts from what you see. A difference from the tray list is kept as a
            finding.
          </p>
        }
      >
        <p class="quiet">
          What the record expects stays hidden until you have both agreed a number for every line.
        </p>
      </Show>
      <Button kind="danger" detail="Start this count again" onPress={() => void restart()}>
        Interrupted?
      </Button>
      <Button kind="quiet" onPress={() => void leave()}>
        Break it off
      </Button>
    </section>
  );
}

function AgreeFoot(props: { readonly running: RunningCount; readonly onBack: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [agreed, setAgreed] = createSignal<readonly string[]>([]);
  const people = () => [props.running.scrub, props.running.circulator];
  const toggle = (name: string) =>
    setAgreed(
      agreed().includes(name) ? agreed().filter((one) => one !== name) : [...agreed(), name],
    );
  const agree = async () => {
    const outcome = await session.send({ type: 'agree', by: people() }, 'circulator');
    if (!outcome.ok) return;
    const isOpen = Object.keys(current().differing).length > 0;
    session.show(isOpen ? { name: 'recount' } : { name: 'frame' });
  };
  return (
    <Foot last={{ at: '', subject: 'Every line has a number.', rest: 'Both agree, by name.' }}>
      <Button kind="plain" onPress={props.onBack}>
        Back
      </Button>
      <For each={people()}>
        {(name) => (
          <Button kind="plain" isPressed={agreed().includes(name)} onPress={() => toggle(name)}>
            {agreed().includes(name) ? '✓ ' : ''}
            {name} agrees
          </Button>
        )}
      </For>
      <Button
        kind="primary"
        whyNot={agreed().length === 2 ? undefined : 'Both must agree first.'}
        onPress={() => void agree()}
      >
        Count agreed
      </Button>
    </Foot>
  );
}
