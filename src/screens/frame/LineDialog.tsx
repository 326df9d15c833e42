import { createSignal, For, Show } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import type { Place } from '#engine/places.ts';
import { placeWords } from '#engine/placeWords.ts';
import type { Turn } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { say } from '#words/say.ts';
import { TurnedUp } from '../TurnedUp.tsx';
import { useCase, useSession } from '../useSession.ts';
import { turnPlace } from './lineActions.ts';
import { type LinePartProps, placesOf } from './lineParts.ts';
import { LeavesWith, NoneFound, Stays } from './StayParts.tsx';
import { piecesAt } from './wires.ts';

export type LineDialogProps = { readonly line: string; readonly onClose: () => void };

/** All that can be done with one line: turns, moves between any two places, breaking, staying. */
export function LineDialog(props: LineDialogProps) {
  const { session } = useSession();
  const current = useCase();
  const [n, setN] = createSignal(1);
  const line = () => current().lines.get(props.line);
  const act = async (command: Command) => {
    await session.send(command);
    props.onClose();
  };
  return (
    <Show when={line()}>
      {(known) => (
        <Dialog title={known().name} onClose={props.onClose}>
          <p class="quiet">{known().detail}</p>
          <Turns line={known()} act={act} />
          <Stepper label={say`How many`} value={n()} onChange={setN} />
          <Moves line={known()} n={n()} act={act} />
          <LeavesWith line={known()} n={n()} act={act} />
          <Stays line={known()} act={act} />
          <NoneFound line={known()} n={n()} act={act} />
          <TurnedUp line={known().id} act={act} />
          <Breaks line={known()} act={act} />
        </Dialog>
      )}
    </Show>
  );
}

function Turns(props: LinePartProps) {
  const current = useCase();
  const [into, setInto] = createSignal(4);
  const here = (turn: Turn) => turnPlace(current(), props.line, turn);
  const asks = () => props.line.turns.find((turn) => turn.asks !== undefined)?.asks;
  return (
    <Show when={props.line.turns.length > 0}>
      <h3 class="dialog-part">{say`It turns into something else`}</h3>
      <Show when={asks()}>
        {(what) => (
          <Stepper label={say`How many ${what()}`} value={into()} max={99} onChange={setInto} />
        )}
      </Show>
      <div class="row">
        <For each={props.line.turns}>
          {(turn) => (
            <Button
              kind="primary"
              whyNot={here(turn) ? undefined : turnBlocked(turn)}
              onPress={() => {
                const at = here(turn);
                if (at)
                  void props.act({
                    type: 'turn',
                    line: props.line.id,
                    turn: turn.id,
                    at,
                    n: 1,
                    ...(turn.asks === undefined ? {} : { into: into() }),
                  });
              }}
            >
              {turn.name}
            </Button>
          )}
        </For>
      </div>
    </Show>
  );
}

const turnBlocked = (turn: Turn): string =>
  turn.at === 'table' ? say`None is on the table.` : say`None is in the patient.`;

function Moves(props: LinePartProps & { readonly n: number }) {
  const { can } = useSession();
  const current = useCase();
  const from = () =>
    [...placesOf(current().sheet.sites), 'stays' as const, 'away' as const].filter(
      (place) => piecesAt(current(), props.line.id, place) > 0,
    );
  const to = (place: Place) =>
    [...placesOf(current().sheet.sites), 'stays' as const].filter((other) => other !== place);
  const command = (place: Place, other: Place): Command => ({
    type: 'move',
    line: props.line.id,
    from: place,
    to: other,
    n: props.n,
  });
  return (
    <Show when={from().length > 0}>
      <h3 class="dialog-part">{say`Move`}</h3>
      <For each={from()}>
        {(place) => (
          <div class="row">
            <span class="row-label">{say`From ${placeWords(current(), place)}`}</span>
            <For each={to(place)}>
              {(other) => (
                <Show when={other !== 'stays' || props.line.stay.may !== 'no'}>
                  <Button
                    kind="plain"
                    whyNot={can(command(place, other)) ? undefined : say`Not possible now.`}
                    onPress={() => void props.act(command(place, other))}
                  >
                    {other === 'stays'
                      ? say`stays on purpose`
                      : say`to ${placeWords(current(), other)}`}
                  </Button>
                </Show>
              )}
            </For>
          </div>
        )}
      </For>
    </Show>
  );
}

function Breaks(props: LinePartProps) {
  const current = useCase();
  const [into, setInto] = createSignal(2);
  const [lengths, setLengths] = createSignal('');
  const place = () =>
    placesOf(current().sheet.sites).findLast((one) => piecesAt(current(), props.line.id, one) > 0);
  const parsed = () =>
    lengths()
      .split(/[+,;\s]+/)
      .filter(Boolean)
      .map((text) => Number(text));
  return (
    <Show when={props.line.cuttable && place()}>
      {(at) => (
        <details class="dialog-part">
          <summary>{say`It broke`}</summary>
          <Stepper label={say`Fragments`} value={into()} min={2} max={99} onChange={setInto} />
          <Field
            kind="text"
            label={say`Lengths in mm, if known (15 + 11)`}
            value={lengths()}
            onInput={setLengths}
          />
          <Button
            kind="danger"
            onPress={() =>
              void props.act({
                type: 'break',
                line: props.line.id,
                at: at(),
                into: into(),
                ...(parsed().length > 0 ? { lengths: parsed() } : {}),
              })
            }
          >
            {say`One broke ${placeWords(current(), at())}`}
          </Button>
        </details>
      )}
    </Show>
  );
}
