import { createSignal, For, Match, Show, Switch } from 'solid-js';
import { allergyItem } from '#engine/checkpoints/allergiesOf.ts';
import type { Answering, Step } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { NumberPad } from '#parts/NumberPad.tsx';
import { say } from '#words/say.ts';
import { AllergyPart } from '../AllergyPart.tsx';
import { DoseControls } from '../DoseControls.tsx';
import { useCase, useSession } from '../useSession.ts';
import { roleAsked } from '../whoWords.ts';
import { BandSays, createBand } from './BandSays.tsx';

export type AnswerControlsProps = {
  readonly checkpoint: string;
  readonly step: Step;
  readonly onAnswered: () => void;
};

/** What the one large step is answered with. */
export function AnswerControls(props: AnswerControlsProps) {
  const { session } = useSession();
  const current = useCase();
  const by = () => {
    const role = roleAsked(props.step.who);
    return role
      ? current().team[role]
      : (current().checkpoints[props.checkpoint]?.leader ?? 'circulator');
  };
  const give = async (value: string) => {
    const { checkpoint, step } = props;
    const said = { type: 'answer', checkpoint, step: step.id, value } as const;
    const scanned = band() === 'agrees' && value !== 'no' ? { scanned: true } : {};
    const outcome = await session.send({ ...said, ...scanned }, by());
    if (outcome.ok) props.onAnswered();
  };
  const [allergy, setAllergy] = createSignal<string>();
  // That there is one is half of the answer: which one stands on top of every screen from then on.
  const choose = (value: string) => {
    const { whoItem, usual } = props.step;
    if (whoItem === allergyItem && value !== usual) setAllergy(value);
    else void give(value);
  };
  const band = createBand(props);
  const kind = () => props.step.answering.kind;
  return (
    <div class="step-controls">
      <Switch>
        <Match when={kind() === 'confirm'}>
          <BandSays band={band()} />
          <Button
            kind="primary"
            whyNot={
              band() === 'differs'
                ? say`The wristband that was scanned is not this patient's.`
                : undefined
            }
            onPress={() => void give('yes')}
          >
            {say`Yes, said aloud`}
          </Button>
          <Button kind="plain" onPress={() => void give('no')}>
            {say`No`}
          </Button>
        </Match>
        <Match when={optionsOf(props.step.answering)}>
          {(options) => (
            <For each={options()}>
              {(option) => (
                <Button kind="plain" onPress={() => choose(option.id)}>
                  {option.name}
                </Button>
              )}
            </For>
          )}
        </Match>
        <Match when={kind() === 'number'}>
          <NumberControls step={props.step} give={give} />
        </Match>
        <Match when={kind() === 'text'}>
          <TextControls step={props.step} give={give} />
        </Match>
        <Match when={kind() === 'time'}>
          <Button kind="primary" onPress={() => void give(session.now())}>
            {say`Now`}
          </Button>
        </Match>
        <Match when={computedOf(props.step.answering) === 'prophylaxis'}>
          <DoseControls onGiven={props.onAnswered} />
        </Match>
        <Match when={kind() === 'computed'}>
          <p class="quiet">{say`Takes its answer from the case. It cannot be ticked.`}</p>
          <Show when={computedOf(props.step.answering) === 'first-count'}>
            <Button kind="plain" onPress={() => session.show({ name: 'count', about: 'first' })}>
              {say`To the first count`}
            </Button>
          </Show>
        </Match>
      </Switch>
      <Show when={allergy()} keyed>
        {(value) => (
          <Dialog
            title={say`Which allergy?`}
            onClose={() => setAllergy(undefined)}
            actions={
              <Button kind="plain" onPress={() => void give(value)}>
                {say`Go on, write it later`}
              </Button>
            }
          >
            <AllergyPart
              act={async (command) => {
                const outcome = await session.send(command, by());
                if (outcome.ok) await give(value);
              }}
            />
          </Dialog>
        )}
      </Show>
    </div>
  );
}

const optionsOf = (answering: Answering) =>
  answering.kind === 'choice' ? answering.options : undefined;

const computedOf = (answering: Answering) =>
  answering.kind === 'computed' ? answering.from : undefined;

type GiveProps = { readonly step: Step; readonly give: (value: string) => Promise<void> };

/** Said so often that each has a key. Not a recommendation; any other number is one tap further. */
const usualNumbers = {
  count: [0, 1, 2, 3, 4, 5, 6],
  amount: [0, 50, 100, 200, 500],
} as const;

function NumberControls(props: GiveProps) {
  const [isAsking, setAsking] = createSignal(false);
  const isCount = () => props.step.answering.kind === 'number' && props.step.answering.opens;
  return (
    <>
      <For each={usualNumbers[isCount() ? 'count' : 'amount']}>
        {(n) => (
          <Button kind="plain" onPress={() => void props.give(String(n))}>
            {n}
          </Button>
        )}
      </For>
      <span class="quiet">{unitOf(props.step)}</span>
      <Button kind="plain" onPress={() => setAsking(true)}>
        {say`Another…`}
      </Button>
      <Show when={isAsking()}>
        <Dialog title={props.step.ask} onClose={() => setAsking(false)}>
          <NumberPad
            label={props.step.short}
            unit={unitOf(props.step)}
            setWords={say`Say it`}
            onNumber={(n) => void props.give(String(n))}
          />
        </Dialog>
      </Show>
    </>
  );
}

const unitOf = (step: Step): string | undefined =>
  step.answering.kind === 'number' ? step.answering.unit : undefined;

function TextControls(props: GiveProps) {
  const [text, setText] = createSignal('');
  return (
    <>
      <Button kind="primary" onPress={() => void props.give(text().trim() || say`said aloud`)}>
        {say`Said aloud`}
      </Button>
      <Field
        kind="text"
        label={say`Words for the record, if any`}
        value={text()}
        onInput={setText}
      />
    </>
  );
}
