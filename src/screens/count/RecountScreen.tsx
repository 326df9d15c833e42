import { createSignal, Show } from 'solid-js';
import { signOut } from '#engine/applies.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { CountLines, type CountPart } from '#parts/CountLines.tsx';
import { Digits } from '#parts/Digits.tsx';
import { Foot } from '#parts/Foot.tsx';
import type { View } from '#session/route.ts';
import { say, sayAll } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { nextGate } from '../gates.ts';
import { sayAsked, useCase, useSession } from '../useSession.ts';
import { askedName, createRecounting, isOff, lineOf, type Recounting } from './createRecounting.ts';
import { FreshEyesDialog } from './FreshEyesDialog.tsx';
import './recount.css';

/** Lines that did not agree, counted again. Still blind: neither which way nor by how much. */
export function RecountScreen() {
  const current = useCase();
  const counting = createRecounting(current);
  const [begun, setBegun] = createSignal('');
  const { asked, here } = counting;
  sayAsked(() => {
    const one = here();
    if (one === undefined) return undefined;
    return { line: lineOf(one), part: isOff(one) ? 'off' : 'field' };
  });
  const before = () => asked()[Math.max(0, asked().indexOf(here() ?? '') - 1)];
  return (
    <Show when={counting.lines().length > 0} fallback={<AllAgree />}>
      <CaseShell
        name={say`Recount`}
        fits
        aside={<WhoCounts counting={counting} />}
        foot={
          <Show when={here()} fallback={<EndFoot counting={counting} />}>
            <div class="digits-foot">
              <Digits
                onNumber={counting.enter}
                canGoBack={asked().indexOf(here() ?? '') > 0}
                onBegun={setBegun}
                onBack={() => counting.choose(before())}
              />
            </div>
          </Show>
        }
      >
        <div class="recount">
          <Said counting={counting} />
          <CountLines
            parts={partsOf(counting)}
            lines={asked().map((one) => ({
              id: one,
              name: askedName(current(), one),
              entered: counting.seen()[one],
            }))}
            currentId={here()}
            begun={begun()}
            progress={say`${asked().length} to count`}
            onOpen={counting.choose}
          />
        </div>
      </CaseShell>
    </Show>
  );
}

function partsOf({ isAlone, people, turn }: Recounting): readonly CountPart[] {
  if (!isAlone()) return [{ id: 'all', label: say`Everything in sight`, state: 'here' }];
  const [scrub, circulator] = people();
  const isSecond = turn() === 'second';
  return [
    { id: 'first', label: say`${circulator}, alone`, state: isSecond ? 'done' : 'here' },
    { id: 'second', label: say`${scrub}, alone`, state: isSecond ? 'here' : 'ahead' },
  ];
}

/** What is to be done, and what two who counted alone do not agree on. */
function Said(props: { readonly counting: Recounting }) {
  const current = useCase();
  const open = () => props.counting.lines().flatMap((line) => current().differing[line] ?? []);
  const isSameTwo = () =>
    !props.counting.isFresh() && open().every(({ recounts }) => recounts === 0);
  const isShown = () => open().some(({ stage }) => stage === 'discrepancy');
  const names = () => props.counting.unlike().map((one) => askedName(current(), one));
  return (
    <>
      <header class="screen-head">
        <h1>{say`Count again`}</h1>
        <p class="quiet">
          {isSameTwo()
            ? say`The same two, roles swapped. Everything in sight: field, table and off the field.`
            : say`A fresh pair of eyes helps. Everything in sight: field, table and off the field.`}
        </p>
      </header>
      <Show
        when={names().length > 0}
        fallback={
          <p class="start-report">
            {open().length === 1
              ? say`◆ One line does not agree. It takes two recounts in a row that agree.`
              : say`◆ ${open().length} lines do not agree. It takes two recounts in a row that agree.`}
            <Show when={!isShown()}>
              {' '}
              {say`The screen does not say which way, nor by how much.`}
            </Show>
          </p>
        }
      >
        <p class="start-report" role="status">
          {say`◆ You two have different numbers: ${sayAll(names())}. Each counts that again, alone.`}
        </p>
      </Show>
    </>
  );
}

/** Who counts, and how: together and aloud, each alone, or with somebody who did not count before. */
function WhoCounts(props: { readonly counting: Recounting }) {
  const [isBringing, setBringing] = createSignal(false);
  const names = () => props.counting.people();
  return (
    <section class="count-aside">
      <h2>{say`Who counts`}</h2>
      <p>
        <strong>{names()[0]}</strong>
        <br />
        <strong>{names()[1]}</strong>
      </p>
      <Button
        kind="plain"
        isPressed={props.counting.isAlone()}
        detail={say`Neither hears or sees the other's numbers`}
        onPress={() => props.counting.countAlone(!props.counting.isAlone())}
      >
        {say`Each alone`}
      </Button>
      <Button
        kind="plain"
        detail={say`Somebody who did not count before`}
        onPress={() => setBringing(true)}
      >
        {say`Fresh eyes…`}
      </Button>
      <p class="quiet">{say`Closure stays held until the line is settled.`}</p>
      <Show when={isBringing()}>
        <FreshEyesDialog
          onBring={(other) => {
            props.counting.bringIn(other);
            setBringing(false);
          }}
          onClose={() => setBringing(false)}
        />
      </Show>
    </section>
  );
}

/** Everything has a number: the two agree, or the tablet goes from the first of them to the second. */
function EndFoot(props: { readonly counting: Recounting }) {
  const { session } = useSession();
  const current = useCase();
  const { counting } = props;
  const record = async () => {
    const by = counting.people();
    const outcome = await session.send(
      { type: 'recount', lines: counting.found(), by },
      'circulator',
    );
    counting.restart();
    if (!outcome.ok) return;
    const open = Object.values(current().differing);
    const discrepancy = open.find((one) => one.stage === 'discrepancy');
    if (open.length === 0) session.show(afterRecount(current()));
    else if (discrepancy) session.show({ name: 'discrepancy', about: discrepancy.line });
  };
  const compare = () => {
    if (counting.compare()) void record();
  };
  const isHandedOver = () => counting.isAlone() && counting.turn() === 'first';
  return (
    <Foot
      last={
        isHandedOver()
          ? { at: '', subject: say`Now without looking here:`, rest: counting.people()[0] }
          : { at: '', subject: say`Both saw it:`, rest: sayAll(counting.people()) }
      }
    >
      <Button kind="plain" onPress={() => counting.choose(counting.asked().at(-1))}>
        {say`Back`}
      </Button>
      <Show
        when={isHandedOver()}
        fallback={
          <Button kind="primary" onPress={() => (counting.isAlone() ? compare() : void record())}>
            {counting.isAlone() ? say`Compare the two` : say`Recount agreed`}
          </Button>
        }
      >
        <Button kind="primary" onPress={counting.handOver}>
          {say`${counting.people()[0]} counts now`}
        </Button>
      </Show>
    </Foot>
  );
}

/** Back to the closure that waits for it; to the frame where none is next. */
function afterRecount(current: Case): View {
  const gate = nextGate(current);
  return current.incisionAt === undefined || gate === signOut
    ? { name: 'frame' }
    : { name: 'closing', about: gate };
}

function AllAgree() {
  const { session } = useSession();
  return (
    <CaseShell
      name={say`Recount`}
      actions={
        <Button kind="primary" onPress={() => session.show({ name: 'frame' })}>
          {say`To the counting frame`}
        </Button>
      }
    >
      <header class="screen-head">
        <h1>{say`Every line agrees`}</h1>
      </header>
    </CaseShell>
  );
}
