import { createSignal, For, Show } from 'solid-js';
import type { RunningCount } from '#engine/countState.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import { type MomentId, momentIds } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { CountLines, type CountPart } from '#parts/CountLines.tsx';
import { Digits } from '#parts/Digits.tsx';
import { Foot } from '#parts/Foot.tsx';
import { say, sayAll } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { sayAsked, useCase, useSession } from '../useSession.ts';
import { afterCount } from './afterCount.ts';
import { createCounting } from './createCounting.ts';
import { isLargeOnList, type Pass } from './pass.ts';

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
  const { session, can } = useSession();
  const current = useCase();
  const done = () => current().counts.done[props.moment];
  const begin = () => void session.send({ type: 'beginCount', moment: props.moment }, 'circulator');
  const broken = () => current().counts.broken;
  const canBegin = () => can({ type: 'beginCount', moment: props.moment });
  const differing = () => Object.keys(current().differing).length;
  const againWords = () =>
    current().sheet.policy.interruptedCount === 'class'
      ? say`An interrupted count starts again with the kind that was being counted.`
      : say`An interrupted count starts again from the beginning.`;
  return (
    <CaseShell
      name={momentName(current(), props.moment)}
      actions={
        <>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`To the frame`}
          </Button>
          <Show when={differing() > 0}>
            <Button kind="primary" onPress={() => session.show({ name: 'recount' })}>
              {say`Count again what did not agree`}
            </Button>
          </Show>
          <Button kind={canBegin() ? 'primary' : 'plain'} onPress={begin}>
            {done() ? say`Count again from the start` : say`Begin the count`}
          </Button>
        </>
      }
    >
      <header class="screen-head">
        <h1>{momentName(current(), props.moment)}</h1>
        <p class="quiet">
          {say`${current().team.scrub} and ${current().team.circulator}, together, aloud, seeing every piece`}
        </p>
      </header>
      <Show when={broken()}>
        {(why) => (
          <p class="start-report">
            {say`◆ The count was broken off. ${why().reason} ${againWords()}`}
          </p>
        )}
      </Show>
      <Show
        when={done()}
        fallback={
          <ul class="plain-list">
            <li>
              {say`Swabs, sharps, small items, instruments; the field and the table, then what is off the field.`}
            </li>
            <li>
              {say`Each piece is separated and seen. A pack that does not hold its number is set aside whole.`}
            </li>
            <li>{say`What the record expects stays hidden until there is a number for every line.`}</li>
            <li>{againWords()}</li>
          </ul>
        }
      >
        {(count) => (
          <p class="count-done">
            {say`✓ Counted at`} <span class="digits-type">{count().at.slice(11, 16)}</span>{' '}
            {say`by ${sayAll(count().by)}, ${count().lines} lines.`}
          </p>
        )}
      </Show>
    </CaseShell>
  );
}

function Counting(props: { readonly running: RunningCount }) {
  const current = useCase();
  const counting = createCounting(() => props.running);
  const [begun, setBegun] = createSignal('');
  sayAsked(() => {
    const one = counting.here();
    return one?.parts ? undefined : one && { ...one, part: counting.pass() };
  });
  const rows = () =>
    counting.rows().map(({ id, one, of, said }) => ({
      ...{ id, name: one.name, entered: said, isOfEach: one.parts !== undefined },
      detail: counting.isAll() && of === 'off' ? say`Off the field` : one.detail,
    }));
  const open = (id: string) => {
    const row = counting.rows().find((known) => known.id === id);
    if (row) counting.choose(row.one.id, row.of);
  };
  const here = () => counting.rows().find(({ one }) => one === counting.here())?.id;
  const progress = () => {
    const ids = counting.rows().map(({ id }) => id);
    if (counting.isAll()) return say`${ids.length} numbers · look them over together`;
    return say`Line ${ids.indexOf(here() ?? '') + 1} of ${ids.length} · count aloud together`;
  };
  return (
    <CaseShell
      name={momentName(current(), props.running.moment)}
      fits
      aside={<CountAside running={props.running} onRestart={counting.restart} />}
      foot={
        <Show
          when={counting.isAll()}
          fallback={
            <div class="digits-foot">
              <Digits
                onNumber={(pieces) => void counting.enter(pieces)}
                onBack={counting.back}
                canGoBack={counting.canGoBack()}
                onBegun={setBegun}
                isLarge={counting.pass() === 'field' && isLargeOnList(current(), counting.here())}
              />
            </div>
          }
        >
          <AgreeFoot running={props.running} onBack={counting.back} />
        </Show>
      }
    >
      <CountLines
        parts={
          counting.isAll()
            ? bothDone(counting.off().length > 0)
            : partsOf(counting.pass(), counting.off().length > 0)
        }
        lines={rows()}
        currentId={here()}
        begun={begun()}
        progress={progress()}
        onOpen={open}
        onApart={counting.takeApart}
      />
    </CaseShell>
  );
}

function partsOf(pass: Pass, hasOff: boolean): readonly CountPart[] {
  const isField = pass === 'field';
  const field: CountPart = {
    id: 'field',
    label: say`Field and table`,
    state: isField ? 'here' : 'done',
  };
  if (!hasOff) return [field];
  return [field, { id: 'off', label: say`Off the field`, state: isField ? 'ahead' : 'here' }];
}

const bothDone = (hasOff: boolean): readonly CountPart[] =>
  partsOf('off', hasOff).map((part) => ({ ...part, state: 'done' }));

function CountAside(props: { readonly running: RunningCount; readonly onRestart: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const restart = async () => {
    props.onRestart();
    const { moment } = props.running;
    await session.send({ type: 'abandon', reason: say`Interrupted.` }, 'circulator');
    await session.send({ type: 'beginCount', moment }, 'circulator');
  };
  const leave = async () => {
    await session.send({ type: 'abandon', reason: say`Broken off.` }, 'circulator');
    session.show({ name: 'frame' });
  };
  return (
    <section class="count-aside">
      <h2>{momentName(current(), props.running.moment)}</h2>
      <p>
        <strong>{say`Scrub`}</strong> {props.running.scrub}
      </p>
      <p>
        <strong>{say`Circulator`}</strong> {props.running.circulator}
      </p>
      <Show
        when={props.running.moment !== 'first'}
        fallback={
          <p class="quiet">
            {say`The first count starts from what you see. A difference from the tray list is kept as a finding.`}
          </p>
        }
      >
        <p class="quiet">
          {say`What the record expects stays hidden until you have both agreed a number for every line.`}
        </p>
      </Show>
      <Button kind="danger" detail={say`Start this count again`} onPress={() => void restart()}>
        {say`Interrupted?`}
      </Button>
      <Button kind="quiet" onPress={() => void leave()}>
        {say`Break it off`}
      </Button>
    </section>
  );
}

/** Each taps their own name; the second tap makes the entry, and until then the first can be taken back. */
function AgreeFoot(props: { readonly running: RunningCount; readonly onBack: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const [agreed, setAgreed] = createSignal<readonly string[]>([]);
  const people = () => [props.running.scrub, props.running.circulator];
  const tap = (name: string) => {
    const isTaken = agreed().includes(name);
    const now = isTaken ? agreed().filter((one) => one !== name) : [...agreed(), name];
    setAgreed(now);
    if (now.length === people().length) void agree();
  };
  const agree = async () => {
    const { moment } = props.running;
    const outcome = await session.send({ type: 'agree', by: people() }, 'circulator');
    if (outcome.ok) session.show(afterCount(current(), moment), 'go-on');
    else setAgreed([]);
  };
  return (
    <Foot
      last={{ at: '', subject: say`Every line has a number.`, rest: say`Both agree, by name.` }}
    >
      <Button kind="plain" onPress={props.onBack}>
        {say`Back`}
      </Button>
      <For each={people()}>
        {(name) => (
          <Button
            kind={agreed().length === 1 && !agreed().includes(name) ? 'primary' : 'plain'}
            size={112}
            isPressed={agreed().includes(name)}
            onPress={() => tap(name)}
          >
            {say`${agreed().includes(name) ? '✓ ' : ''}${name} agrees`}
          </Button>
        )}
      </For>
    </Foot>
  );
}
