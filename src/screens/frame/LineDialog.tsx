import { createSignal, For, Show } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { placeWords } from '#engine/case/placeWords.ts';
import { insideOf } from '#engine/ledger.ts';
import { isExplained } from '#engine/moves/isExplained.ts';
import { packsOf } from '#engine/moves/lotOf.ts';
import { inSite, type Place } from '#engine/places.ts';
import type { Line, Turn } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { lotWords } from '#scan/packOf.ts';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';
import { createPackScan } from './createPackScan.ts';
import { turnPlace } from './lineActions.ts';
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
          <Stays line={known()} act={act} />
          <NoneFound line={known()} n={n()} act={act} />
          <Breaks line={known()} act={act} />
        </Dialog>
      )}
    </Show>
  );
}

type PartProps = { readonly line: Line; readonly act: (command: Command) => Promise<void> };

/** Places where a piece of the line can be now. */
function placesOf(sites: readonly { readonly id: string }[]): readonly Place[] {
  return ['table', ...sites.map((site) => inSite(site.id)), 'off'];
}

function Turns(props: PartProps) {
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

function Moves(props: PartProps & { readonly n: number }) {
  const { can } = useSession();
  const current = useCase();
  const from = () =>
    placesOf(current().sheet.sites).filter(
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

/** Saying why something stays; a line that may not stay needs the surgeon and one other. */
function Stays(props: PartProps) {
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const [where, setWhere] = createSignal('');
  const [lot, setLot] = createSignal('');
  const [no, setNo] = createSignal<string>();
  createPackScan(
    (pack) => {
      setLot(lotWords(pack));
      setNo(undefined);
    },
    setNo,
    () => isShown() && asksLot(),
  );
  const left = () => current().left[props.line.id] ?? [];
  const isOpen = () => left().some((pieces) => !isExplained(props.line, pieces));
  const isInsideNow = () => insideOf(current().ledger, props.line.id) > 0;
  const needs = () => (props.line.stay.may === 'reason' ? props.line.stay.needs : []);
  const isDecision = () => props.line.stay.may === 'no';
  const lots = () => [...new Set(packsOf(current(), props.line.id).flatMap(({ words }) => words))];
  /** What may stay without a word still has a lot, where packs were scanned and nobody knows which it was. */
  const isLotOpen = () => lots().length > 0 && left().some((one) => one.lot === undefined);
  const asksLot = () => needs().includes('lot') || isLotOpen();
  const isShown = () =>
    isOpen() ||
    isLotOpen() ||
    (isDecision() && isInsideNow()) ||
    (needs().length > 0 && left().length > 0);
  const isSaid = () =>
    [reason(), where(), isDecision() ? '' : lot()].some((words) => words.trim() !== '');
  const explain = () =>
    props.act({
      type: 'explain',
      line: props.line.id,
      ...(reason().trim() ? { reason: reason().trim() } : {}),
      ...(where().trim() ? { where: where().trim() } : {}),
      ...(lot().trim() ? { lot: lot().trim() } : {}),
      by: ['surgeon', 'circulator'],
    });
  return (
    <Show when={isShown()}>
      <h3 class="dialog-part">
        {isDecision() ? say`Left by decision of the surgeon and the circulator` : say`Why it stays`}
      </h3>
      <div class="dialog-fields">
        <Field kind="text" label={say`Reason`} value={reason()} onInput={setReason} />
        <Show when={needs().includes('where')}>
          <Field kind="text" label={say`Where`} value={where()} onInput={setWhere} />
        </Show>
        <Show when={asksLot()}>
          <Field
            kind="text"
            label={say`Lot number, or scan the pack`}
            value={lot()}
            error={no()}
            onInput={setLot}
          />
        </Show>
      </div>
      <Show when={asksLot() && lots().length > 0}>
        <ChoiceGrid
          label={say`Packs that were scanned`}
          choices={lots().map((words) => ({ id: words, name: words.split('; ')[0] ?? words }))}
          chosen={[lot()]}
          onChoose={setLot}
        />
      </Show>
      <Button
        kind={isDecision() ? 'danger' : 'primary'}
        whyNot={isSaid() ? undefined : say`Say why first.`}
        onPress={() => void explain()}
      >
        {isDecision() ? say`Leave it by decision` : say`Record why it stays`}
      </Button>
    </Show>
  );
}

/** What was thought to be inside, and is not: the surgeon says so after a search, with the reason. */
function NoneFound(props: PartProps & { readonly n: number }) {
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const isThought = () =>
    props.line.startsIn !== undefined &&
    props.line.startsIn !== 'earlier-operation' &&
    insideOf(current().ledger, props.line.id) > 0;
  return (
    <Show when={isThought()}>
      <details class="dialog-part">
        <summary>{say`A search showed none`}</summary>
        <Field
          kind="text"
          label={say`How it was searched for, and what is planned`}
          value={reason()}
          onInput={setReason}
        />
        <Button
          kind="danger"
          whyNot={reason().trim() ? undefined : say`Say how first.`}
          onPress={() =>
            void props.act({
              type: 'searchedNone',
              line: props.line.id,
              n: props.n,
              reason: reason().trim(),
              by: 'surgeon',
            })
          }
        >
          {say`${current().team.surgeon}: searched, ${props.n} not there`}
        </Button>
      </details>
    </Show>
  );
}

function Breaks(props: PartProps) {
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
