import { createMemo, createSignal, For, on, Show } from 'solid-js';
import { stationOf } from '#engine/case/stationsOf.ts';
import { rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Frame } from '#parts/Frame.tsx';
import { Wire } from '#parts/Wire.tsx';
import { WireGroup } from '#parts/WireGroup.tsx';
import type { SessionState } from '#session/state.ts';
import { CaseShell, TakeBack } from '../CaseShell.tsx';
import { viewOfStation } from '../stationViews.ts';
import { useCase, useSession } from '../useSession.ts';
import { AddDialog } from './AddDialog.tsx';
import { LineDialog } from './LineDialog.tsx';
import { MoreDialog } from './MoreDialog.tsx';
import { NextStep } from './NextStep.tsx';
import { type Column, columnsOf, detailOf, stretchesOf, wireGroups } from './wires.ts';

/** The counting frame: every line a wire, every piece a bead, every place a stretch of it. */
export function FrameScreen() {
  const { session } = useSession();
  const current = useCase();
  const [line, setLine] = createSignal<string>();
  const [open, setOpen] = createSignal<'add' | 'more'>();
  const columns = createMemo(() => columnsOf(current()), undefined, { equals: sameColumns });
  const specimen = () => {
    const all = Object.values(current().specimens);
    const next = all.find((one) => one.stage !== 'handedOver' && one.stage !== 'notTaken');
    return next?.id ?? all[0]?.id ?? 'none';
  };
  return (
    <CaseShell
      name="Counting frame"
      actions={
        <>
          <TakeBack />
          <Button kind="plain" onPress={() => setOpen('add')}>
            Add to field
          </Button>
          <Button
            kind="plain"
            onPress={() => session.show({ name: 'specimen', about: specimen() })}
          >
            Specimen
          </Button>
          <Button kind="plain" onPress={() => setOpen('more')}>
            More…
          </Button>
          <NextStep />
        </>
      }
    >
      <Wires columns={columns()} selected={line()} onOpen={setLine} />
      <Show when={line()} keyed>
        {(id) => <LineDialog line={id} onClose={() => setLine(undefined)} />}
      </Show>
      <Show when={open() === 'add'}>
        <AddDialog onClose={() => setOpen(undefined)} />
      </Show>
      <Show when={open() === 'more'}>
        <MoreDialog onClose={() => setOpen(undefined)} />
      </Show>
    </CaseShell>
  );
}

const sameColumns = (one: readonly Column[], other: readonly Column[]): boolean =>
  one.map((column) => column.label).join() === other.map((column) => column.label).join();

const sameList = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((word, index) => word === other[index]);

type WiresProps = {
  readonly columns: readonly Column[];
  readonly selected: string | undefined;
  readonly onOpen: (line: string) => void;
};

/** Wires keep their place and their elements from tap to tap: only what changed is drawn again. */
function Wires(props: WiresProps) {
  const current = useCase();
  const groups = createMemo(() => wireGroups(current()));
  const titles = createMemo(() => groups().map((group) => group.title), undefined, {
    equals: sameList,
  });
  const linesOf = (title: string) =>
    createMemo(() => groups().find((group) => group.title === title)?.lines ?? [], undefined, {
      equals: sameList,
    });
  return (
    <Show when={titles().length > 0} fallback={<NothingYet />}>
      <Frame heading="Followed items" places={props.columns}>
        <For each={titles()}>
          {(title) => {
            const lines = linesOf(title);
            const wires = (
              <For each={lines()}>
                {(line) => <LineWire {...props} line={line} isPart={title !== ''} />}
              </For>
            );
            return title === '' ? wires : <WireGroup name={title}>{wires}</WireGroup>;
          }}
        </For>
      </Frame>
    </Show>
  );
}

/**
 * What a wire stands on: its own row, and what decides whether a piece may be moved at all. One tap then draws
 * one wire again, and asks the engine for no other.
 */
function basisOf(current: Case, state: SessionState, line: string): readonly unknown[] {
  return [
    rowOf(current.ledger, line),
    current.differing[line]?.stage,
    current.incisionAt,
    current.closures,
    current.finishedAt,
    state.notSaved,
    state.follows,
    state.damaged,
  ];
}

const sameBasis = (one: readonly unknown[], other: readonly unknown[]): boolean =>
  one.every((part, index) => part === other[index]);

function NothingYet() {
  const { session } = useSession();
  const current = useCase();
  const station = () => stationOf(current());
  return (
    <section class="empty">
      <h1>Nothing is on the table yet</h1>
      <p>
        The counting frame fills with the first count: what two people see is what it starts from.
      </p>
      <Show when={station()}>
        {(next) => (
          <Button kind="primary" size={112} onPress={() => session.show(viewOfStation(next()))}>
            Go to: {next().name}
          </Button>
        )}
      </Show>
    </section>
  );
}

function LineWire(props: WiresProps & { readonly line: string; readonly isPart: boolean }) {
  const { session, state } = useSession();
  const current = useCase();
  const line = createMemo(() => current().lines.get(props.line));
  const basis = createMemo(() => basisOf(current(), state(), props.line), undefined, {
    equals: sameBasis,
  });
  const stretches = createMemo(
    on(basis, () =>
      stretchesOf(current(), props.line, props.columns).map(({ move, ...stretch }) => ({
        ...stretch,
        onTap: move && session.canSend(move) ? () => void session.send(move) : undefined,
      })),
    ),
  );
  return (
    <Wire
      id={props.line}
      name={line()?.name ?? props.line}
      detail={detailOf(line())}
      stretches={stretches()}
      isPart={props.isPart}
      isSelected={props.selected === props.line}
      onSelect={() => props.onOpen(props.line)}
    />
  );
}
