import { createSignal, Show } from 'solid-js';
import { insideOf } from '#engine/ledger.ts';
import { isExplained } from '#engine/moves/isExplained.ts';
import { packsOf } from '#engine/moves/lotOf.ts';
import { Button } from '#parts/Button.tsx';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { Field } from '#parts/Field.tsx';
import { lotWords } from '#scan/packOf.ts';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';
import { createPackScan } from './createPackScan.ts';
import { type LinePartProps, placesOf } from './lineParts.ts';
import { piecesAt } from './wires.ts';

/** Saying why something stays; a line that may not stay needs the surgeon and one other. */
export function Stays(props: LinePartProps) {
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
export function NoneFound(props: LinePartProps & { readonly n: number }) {
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

/** It leaves lawfully with somebody who is named: a cord clamp with the baby. It is not counted again. */
export function LeavesWith(props: LinePartProps & { readonly n: number }) {
  const { can } = useSession();
  const current = useCase();
  const [whom, setWhom] = createSignal('');
  const from = () =>
    placesOf(current().sheet.sites).find((place) => piecesAt(current(), props.line.id, place) > 0);
  return (
    <Show when={from()}>
      {(place) => {
        const command = () =>
          ({
            type: 'move',
            line: props.line.id,
            from: place(),
            to: 'away',
            n: props.n,
            with: whom().trim(),
          }) as const;
        const whyNot = () => {
          if (whom().trim() === '') return say`Say with whom, by name.`;
          return can(command()) ? undefined : say`Not possible now.`;
        };
        return (
          <details class="dialog-part">
            <summary>{say`It leaves with somebody…`}</summary>
            <Field
              kind="text"
              label={say`With whom`}
              hint={say`Such as the baby, with name or number`}
              value={whom()}
              onInput={setWhom}
            />
            <Button kind="danger" whyNot={whyNot()} onPress={() => void props.act(command())}>
              {say`It leaves the room with them`}
            </Button>
          </details>
        );
      }}
    </Show>
  );
}
