import { createSignal, Show } from 'solid-js';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import { say, sayOf } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

const others = ['formalin', 'sterile pot', 'saline', 'culture swab', 'dry'] as const;

/** Into its pot, with the medium that the test wants, seen by two. */
export function ContainStep(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const current = useCase();
  const used = () =>
    Object.values(current().specimens).flatMap((one) => (one.pot ? [one.pot] : []));
  const nextPot = () => String(Math.max(0, ...used().map((pot) => Number(pot) || 0)) + 1);
  const [pot, setPot] = createSignal(nextPot());
  const [medium, setMedium] = createSignal(props.specimen.media[0] ?? 'sterile pot');
  const [reason, setReason] = createSignal('');
  const media = () => [...new Set([...props.specimen.media, ...others])];
  const isFit = () => props.specimen.media.length === 0 || props.specimen.media.includes(medium());
  const contain = () =>
    void session.send({
      type: 'specimen',
      id: props.specimen.id,
      step: 'contained',
      pot: pot().trim(),
      medium: medium(),
      ...(isFit() ? {} : { reason: reason().trim() }),
    });
  return (
    <div class="step-form">
      <Choices
        label={say`Pot or medium, for ${props.specimen.test}`}
        choices={media().map((one) => {
          const fits = props.specimen.media.includes(one);
          return { id: one, name: sayOf(one), ...(fits ? { detail: say`fits the test` } : {}) };
        })}
        chosen={medium()}
        onChoose={setMedium}
      />
      <Show when={!isFit()}>
        <Field
          kind="text"
          label={say`${sayOf(medium())} does not fit ${props.specimen.test}. Why all the same?`}
          value={reason()}
          onInput={setReason}
        />
      </Show>
      <Field kind="text" label={say`Pot`} value={pot()} onInput={setPot} />
      <div class="step-acts">
        <Button kind="primary" size={112} onPress={contain}>
          {say`In its pot, seen by ${current().team.scrub} and ${current().team.circulator}`}
        </Button>
      </div>
    </div>
  );
}
