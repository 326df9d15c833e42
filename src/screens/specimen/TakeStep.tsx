import { createSignal, For, Show } from 'solid-js';
import { at } from '#engine/ledger.ts';
import { inSite } from '#engine/places.ts';
import type { Line } from '#engine/sheet.ts';
import type { Specimen } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Field } from '#parts/Field.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** The specimen is out: in how many pieces, whole or not, the bag, and what rides on it. */
export function TakeStep(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const current = useCase();
  const [pieces, setPieces] = createSignal(1);
  const [whole, setWhole] = createSignal('yes');
  const [bag, setBag] = createSignal<'intact' | 'torn' | 'none'>(
    props.specimen.bagWanted ? 'intact' : 'none',
  );
  const [carries, setCarries] = createSignal<Readonly<Record<string, number>>>({});
  const inside = (line: Line) => at(current().ledger, line.id, inSite(props.specimen.site));
  const riders = () =>
    [...current().lines.values()].filter((line) => canRide(line) && inside(line) > 0);
  const take = () => {
    const ridden = Object.entries(carries()).filter(([, n]) => n > 0);
    void session.send({
      type: 'specimen',
      id: props.specimen.id,
      step: 'taken',
      pieces: pieces(),
      whole: whole() === 'yes',
      bag: bag(),
      carries: Object.fromEntries(ridden),
    });
  };
  return (
    <div class="step-form">
      <Show when={props.specimen.isWhole === false}>
        <p class="start-report">
          {say`▲ ${props.specimen.pieces} pieces are out and do not make a whole. Find the rest, or the surgeon says
            why it stays.`}
        </p>
      </Show>
      <div class="take-top">
        <Stepper label={say`Pieces out`} value={pieces()} max={99} onChange={setPieces} />
        <Choices
          label={say`Do they make a whole?`}
          choices={[
            { id: 'yes', name: say`Whole`, detail: say`Tip and base seen` },
            { id: 'no', name: say`Not whole` },
          ]}
          chosen={whole()}
          onChoose={setWhole}
        />
      </div>
      <Choices
        label={say`Bag, looked at by the scrub`}
        choices={[
          { id: 'intact', name: say`Intact` },
          { id: 'torn', name: say`Torn` },
          { id: 'none', name: say`No bag used` },
        ]}
        chosen={bag()}
        onChoose={(id) => setBag(id === 'intact' || id === 'torn' ? id : 'none')}
      />
      <div class="take-last">
        <Show when={riders().length > 0}>
          <div>
            <p class="quiet">{say`What rides on it or came in it, and leaves with it:`}</p>
            <div class="riders">
              <For each={riders().map((line) => line.id)}>
                {(id) => {
                  const line = () => current().lines.get(id);
                  return (
                    <Stepper
                      label={line()?.name ?? id}
                      value={carries()[id] ?? 0}
                      min={0}
                      max={at(current().ledger, id, inSite(props.specimen.site))}
                      onChange={(n) => setCarries({ ...carries(), [id]: n })}
                    />
                  );
                }}
              </For>
            </div>
          </div>
        </Show>
        <div class="step-acts">
          <Button kind="primary" size={112} onPress={take}>
            {say`It is out`}
          </Button>
          <NotTaken specimen={props.specimen} />
        </div>
      </div>
    </div>
  );
}

/** Ties, clips, stones, wires and fragments can ride on tissue; what must come out by itself cannot. */
const canRide = (line: Line): boolean =>
  line.stay.may === 'yes' || line.startsIn !== undefined || line.id.endsWith('-fragment');

function NotTaken(props: { readonly specimen: Specimen }) {
  const { session } = useSession();
  const [reason, setReason] = createSignal('');
  const isOut = () => props.specimen.stage !== 'planned';
  const leave = () =>
    void session.send(
      {
        type: 'specimen',
        id: props.specimen.id,
        step: isOut() ? 'partLeft' : 'notTaken',
        reason: reason().trim(),
        by: 'surgeon',
      },
      'surgeon',
    );
  return (
    <details class="not-taken">
      <summary>{isOut() ? say`A part stays…` : say`It is not taken…`}</summary>
      <Field kind="text" label={say`The surgeon says why`} value={reason()} onInput={setReason} />
      <Button
        kind="danger"
        whyNot={reason().trim() ? undefined : say`Say why first.`}
        onPress={leave}
      >
        {isOut() ? say`A part stays, for this reason` : say`Not taken, for this reason`}
      </Button>
    </details>
  );
}
