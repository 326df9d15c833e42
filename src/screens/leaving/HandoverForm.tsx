import { createMemo, createSignal, For, Show } from 'solid-js';
import { handoverOf } from '#engine/closures/handoverOf.ts';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** What stays by intent and has to come out, or to be known: to whom it is handed over, and the plan. */
export function HandoverForm() {
  const current = useCase();
  const lines = createMemo(() =>
    Object.keys(current().left).flatMap((id) => {
      const line = current().lines.get(id);
      const stays = (current().left[id] ?? []).length > 0;
      return line && stays && line.stay.may !== 'yes' ? [line] : [];
    }),
  );
  return (
    <Show when={lines().length > 0}>
      <section class="leaving-part">
        <h2 class="part-title">{say`Stays on purpose: hand it over`}</h2>
        <For each={lines()}>{(line) => <LineHandover line={line} />}</For>
      </section>
    </Show>
  );
}

function LineHandover(props: { readonly line: Line }) {
  const { session } = useSession();
  const current = useCase();
  const [to, setTo] = createSignal('');
  const [plan, setPlan] = createSignal('');
  const done = () => handoverOf(current(), props.line.id);
  const pieces = () => (current().left[props.line.id] ?? []).reduce((sum, one) => sum + one.n, 0);
  const give = () =>
    void session.send(
      { type: 'handover', line: props.line.id, to: to().trim(), plan: plan().trim() },
      current().team.circulator,
    );
  return (
    <div class="handover">
      <p>
        <strong>
          {pieces()} {props.line.name}
        </strong>
        <Show when={done()}>{(one) => <> ✓ {`${one().to}: ${one().plan}`}</>}</Show>
      </p>
      <Show when={!done()}>
        <div class="row">
          <Field kind="text" label={say`To whom`} value={to()} onInput={setTo} />
          <Field
            kind="text"
            label={say`When it comes out, and how`}
            value={plan()}
            onInput={setPlan}
          />
          <Button
            kind="primary"
            whyNot={to().trim() && plan().trim() ? undefined : say`Say to whom, and the plan.`}
            onPress={give}
          >
            {say`Handed over`}
          </Button>
        </div>
      </Show>
    </div>
  );
}
