import { createSignal, For, Match, Switch } from 'solid-js';
import type { Closure, Step } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';
import { roleAsked } from '../whoWords.ts';

export type LookControlsProps = {
  readonly closure: Closure;
  readonly step: Step;
  readonly onAnswered: () => void;
};

/** What one step of the last look is answered with. The surgeon speaks; somebody taps. */
export function LookControls(props: LookControlsProps) {
  const { session } = useSession();
  const current = useCase();
  const [text, setText] = createSignal('');
  const by = () => current().team[roleAsked(props.step.who) ?? 'surgeon'];
  const give = async (value: string) => {
    const outcome = await session.send(
      { type: 'look', closure: props.closure.id, answers: { [props.step.id]: value } },
      by(),
    );
    if (outcome.ok) props.onAnswered();
  };
  const notApplicable = async () => {
    await session.send(
      {
        type: 'look',
        closure: props.closure.id,
        answers: { [props.step.id]: { notApplicable: say`Said by the surgeon` } },
      },
      by(),
    );
    props.onAnswered();
  };
  const options = () =>
    props.step.answering.kind === 'choice' ? props.step.answering.options : undefined;
  const isText = () =>
    props.step.answering.kind === 'text' || props.step.answering.kind === 'number';
  return (
    <div class="step-controls">
      <Switch>
        <Match when={props.step.answering.kind === 'confirm'}>
          <Button kind="primary" onPress={() => void give('yes')}>
            {say`Yes`}
          </Button>
          <Button kind="danger" onPress={() => void give('no')}>
            {say`No`}
          </Button>
        </Match>
        <Match when={options()}>
          {(known) => (
            <For each={known()}>
              {(option) => (
                <Button
                  kind={props.step.stopOn.includes(option.id) ? 'danger' : 'plain'}
                  onPress={() => void give(option.id)}
                >
                  {option.name}
                </Button>
              )}
            </For>
          )}
        </Match>
        <Match when={isText()}>
          <Field
            kind={props.step.answering.kind === 'number' ? 'number' : 'text'}
            label={say`In a few words`}
            value={text()}
            onInput={setText}
          />
          <Button kind="primary" onPress={() => void give(text().trim() || 'none')}>
            {text().trim() ? say`Said` : say`None`}
          </Button>
        </Match>
      </Switch>
      {props.step.mayNotApply ? (
        <Button kind="quiet" onPress={() => void notApplicable()}>
          {say`Not applicable`}
        </Button>
      ) : null}
    </div>
  );
}
