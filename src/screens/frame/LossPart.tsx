import { batch, createSignal, Match, Show, Switch, untrack } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { NumberPad } from '#parts/NumberPad.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import { useCase } from '../useSession.ts';
import './loss.css';
import { measuredNext, unweighed } from './unweighed.ts';

const kinds = () =>
  [
    { id: 'swabs', name: say`Swabs weighed` },
    { id: 'suction', name: say`In the suction`, detail: 'mL' },
    { id: 'irrigation', name: say`Irrigation used`, detail: 'mL' },
    { id: 'other', name: say`Liquor or other fluid`, detail: say`mL, taken off` },
  ] as const;

const swabLine = (next: ReturnType<typeof measuredNext>) =>
  next?.kind === 'swabs' ? next.line : undefined;

/** Wet swabs weighed, suction and irrigation: an estimate of loss, never more than that. */
export function LossPart(props: {
  readonly act: (command: Command) => Promise<void>;
  /** Writes it down and goes on here. Tells whether it was written. */
  readonly write: (command: Command) => Promise<boolean>;
  /** One thing after another, from the first that is not measured yet. */
  readonly isInOrder?: boolean | undefined;
}) {
  const current = useCase();
  const swabs = () => current().sheet.lines.filter((line) => line.class === 'swab');
  const first = untrack(() => (props.isInOrder ? measuredNext(current()) : undefined));
  const [kind, setKind] = createSignal<string | undefined>(first?.kind);
  const [line, setLine] = createSignal(swabLine(first) ?? swabs()[0]?.id ?? '');
  // Each number gets a pad of its own, with nothing typed.
  const [turn, setTurn] = createSignal(1);
  const [said, setN] = createSignal<number>();
  const n = () => said() ?? unweighed(current(), line());
  const measured = (amount: number): Command => {
    const what = kind();
    if (what === 'swabs') return { type: 'weigh', line: line(), n: n(), wetG: amount };
    const fluid = what === 'suction' || what === 'other' ? what : 'irrigation';
    return { type: 'fluid', kind: fluid, ml: amount };
  };
  const goOn = async (amount: number) => {
    if (!(await props.write(measured(amount)))) return;
    const next = measuredNext(current());
    batch(() => {
      setN(undefined);
      setTurn(turn() + 1);
      setKind(next?.kind);
      setLine(swabLine(next) ?? line());
    });
  };
  const name = () => kinds().find(({ id }) => id === kind())?.name ?? '';
  const loss = () => lossOf(current());
  return (
    <>
      <Show when={kind() === undefined}>
        <Choices label={say`What was measured`} choices={kinds()} onChoose={setKind} />
      </Show>
      <Show when={kind() !== undefined}>
        <div class="loss-kind">
          <h3 class="loss-title">{name()}</h3>
          <Button kind="quiet" onPress={() => setKind(undefined)}>
            {say`Something else…`}
          </Button>
        </div>
      </Show>
      <Show when={kind() === 'swabs'}>
        <div class="loss-swabs">
          <Choices
            label={say`Which swabs`}
            choices={swabs().map(({ id, name, dryG }) => ({
              id,
              name,
              detail: dryG === undefined ? say`dry weight not known` : say`dry ${dryG} g each`,
            }))}
            chosen={line()}
            onChoose={setLine}
          />
          <Stepper label={say`How many`} value={n()} onChange={setN} />
        </div>
      </Show>
      <Show when={kind() && `${kind()} ${turn()}`} keyed>
        <NumberPad
          label={kind() === 'swabs' ? say`Weight of all together, wet` : say`How much`}
          unit={kind() === 'swabs' ? 'g' : 'mL'}
          length={5}
          isLow={kind() === 'swabs'}
          setWords={say`Write it down`}
          onNumber={(amount) => void props.act(measured(amount))}
          more={{ words: say`Write it, then another`, onNumber: (amount) => void goOn(amount) }}
        />
      </Show>
      <p class="quiet">
        <Switch
          fallback={say`So far about ${loss().totalMl} mL, an estimate. Weighing reads high.`}
        >
          <Match when={current().weighed.length + current().fluids.length === 0}>
            {say`Nothing is measured yet.`}
          </Match>
          <Match when={loss().isUnknown}>
            {say`No estimate: a dry weight is not known, or is more than what was weighed.`}
          </Match>
        </Switch>
      </p>
    </>
  );
}
