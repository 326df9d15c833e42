import { createSignal, For } from 'solid-js';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';

const takers = () => [say`Porter`, say`Laboratory runner`, say`Specimen fridge, by hand`] as const;

/** Who takes the specimen away. */
export function HandOverStep(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const [to, setTo] = createSignal('');
  const handOver = (who: string) =>
    void session.send({ type: 'specimen', id: props.specimen.id, step: 'handedOver', to: who });
  return (
    <div class="step-form">
      <p>{say`Read back by ${props.specimen.readBackBy}. Who takes it, with the form?`}</p>
      <div class="row">
        <For each={takers()}>
          {(who) => (
            <Button kind="plain" onPress={() => handOver(who)}>
              {who}
            </Button>
          )}
        </For>
      </div>
      <Field kind="text" label={say`Somebody else`} value={to()} onInput={setTo} />
      <Button
        kind="primary"
        whyNot={to().trim() ? undefined : say`Say who takes it.`}
        onPress={() => handOver(to().trim())}
      >
        {say`Handed over`}
      </Button>
    </div>
  );
}
