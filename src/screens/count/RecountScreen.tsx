import { createMemo, createSignal, Show } from 'solid-js';
import { signOut } from '#engine/applies.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { CountLines } from '#parts/CountLines.tsx';
import { Digits } from '#parts/Digits.tsx';
import { Foot } from '#parts/Foot.tsx';
import type { View } from '#session/route.ts';
import { say } from '#words/say.ts';
import { CaseShell } from '../CaseShell.tsx';
import { nextGate } from '../gates.ts';
import { sayAsked, useCase, useSession } from '../useSession.ts';
import { canBeOff } from './pass.ts';

/** Lines that did not agree, counted again. Still blind: neither which way nor by how much. */
export function RecountScreen() {
  const { session } = useSession();
  const current = useCase();
  const [seen, setSeen] = createSignal<Readonly<Record<string, number>>>({});
  const [chosen, setChosen] = createSignal<string>();
  const [begun, setBegun] = createSignal('');
  const lines = createMemo(() => Object.keys(current().differing), undefined, {
    equals: (one, other) => one.join() === other.join(),
  });
  // A line with pieces off the field is asked twice, so that the split stays what people saw.
  const asked = createMemo(() => lines().flatMap((line) => askedOf(current(), line)), undefined, {
    equals: (one, other) => one.join() === other.join(),
  });
  const here = createMemo(() => {
    const picked = chosen();
    if (picked && asked().includes(picked)) return picked;
    return asked().find((one) => seen()[one] === undefined);
  });
  sayAsked(() => {
    const one = here();
    if (!one) return undefined;
    return { line: lineOf(one), part: one.endsWith(':off') ? 'off' : 'field' };
  });
  const round = () =>
    Math.max(0, ...lines().map((line) => current().differing[line]?.recounts ?? 0));
  const isShown = () => lines().some((line) => current().differing[line]?.stage === 'discrepancy');
  const record = async () => {
    const entered = Object.fromEntries(
      lines().map((line) => [
        line,
        { field: seen()[`${line}:field`] ?? 0, off: seen()[`${line}:off`] ?? 0 },
      ]),
    );
    const outcome = await session.send({ type: 'recount', lines: entered }, 'circulator');
    setSeen({});
    setChosen(undefined);
    if (!outcome.ok) return;
    const open = Object.values(current().differing);
    const discrepancy = open.find((one) => one.stage === 'discrepancy');
    if (open.length === 0) session.show(afterRecount(current()));
    else if (discrepancy) session.show({ name: 'discrepancy', about: discrepancy.line });
  };
  return (
    <Show when={lines().length > 0} fallback={<AllAgree />}>
      <CaseShell
        name={say`Recount`}
        fits
        foot={
          <Show
            when={here()}
            fallback={
              <Foot last={{ at: '', subject: say`Both saw it:`, rest: names() }}>
                <Button kind="plain" onPress={() => setChosen(asked().at(-1))}>
                  {say`Back`}
                </Button>
                <Button kind="primary" onPress={() => void record()}>
                  {say`Recount agreed`}
                </Button>
              </Foot>
            }
          >
            <div class="digits-foot">
              <Digits
                onNumber={(pieces) => {
                  const line = here();
                  if (line) setSeen({ ...seen(), [line]: pieces });
                  setChosen(undefined);
                }}
                canGoBack={asked().indexOf(here() ?? '') > 0}
                onBegun={setBegun}
                onBack={() => setChosen(asked()[Math.max(0, asked().indexOf(here() ?? '') - 1)])}
              />
            </div>
          </Show>
        }
      >
        <header class="screen-head">
          <h1>{say`Count again`}</h1>
          <p class="quiet">
            {round() === 0
              ? say`The same two, roles swapped. Everything in sight: field, table and off the field.`
              : say`A fresh pair of eyes helps. Everything in sight: field, table and off the field.`}
          </p>
        </header>
        <p class="start-report">
          {lines().length === 1
            ? say`◆ One line does not agree. It takes two recounts in a row that agree.`
            : say`◆ ${lines().length} lines do not agree. It takes two recounts in a row that agree.`}
          <Show when={!isShown()}> {say`The screen does not say which way, nor by how much.`}</Show>
        </p>
        <CountLines
          parts={[{ id: 'all', label: say`Everything in sight`, state: 'here' }]}
          lines={asked().map((one) => ({
            id: one,
            name: askedName(current(), one),
            entered: seen()[one],
          }))}
          currentId={here()}
          begun={begun()}
          progress={say`${asked().length} to count`}
          onOpen={setChosen}
        />
      </CaseShell>
    </Show>
  );

  function names(): string {
    return say`${current().team.scrub} and ${current().team.circulator}`;
  }
}

/** Back to the closure that waits for it; to the frame where none is next. */
function afterRecount(current: Case): View {
  const gate = nextGate(current);
  return current.incisionAt === undefined || gate === signOut
    ? { name: 'frame' }
    : { name: 'closing', about: gate };
}

const lineOf = (asked: string): string => asked.slice(0, asked.lastIndexOf(':'));

function askedOf(current: Case, line: string): readonly string[] {
  return canBeOff(current, line) ? [`${line}:field`, `${line}:off`] : [`${line}:field`];
}

function askedName(current: Case, asked: string): string {
  const line = lineOf(asked);
  const name = current.lines.get(line)?.name ?? line;
  if (askedOf(current, line).length === 1) return name;
  return asked.endsWith(':off') ? say`${name} · off the field` : say`${name} · field and table`;
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
