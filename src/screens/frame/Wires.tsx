import {
  type Accessor,
  createComputed,
  createMemo,
  createSignal,
  For,
  on,
  Show,
  type Signal,
  untrack,
} from 'solid-js';
import { stationOf } from '#engine/case/stationsOf.ts';
import { balancesOf } from '#engine/ledger.ts';
import type { Move } from '#engine/moves/events.ts';
import { isInside, siteOf } from '#engine/places.ts';
import type { Line } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Frame } from '#parts/Frame.tsx';
import type { StretchView } from '#parts/Stretch.tsx';
import { Wire } from '#parts/Wire.tsx';
import { type SetMove, WireGroup } from '#parts/WireGroup.tsx';
import { say } from '#words/say.ts';
import { createSettled } from '../createSettled.ts';
import { viewOfStation } from '../stationViews.ts';
import { useCase, useCaseFields, useSession } from '../useSession.ts';
import { indexOf } from './frameIndex.ts';
import { InsideKey } from './InsideKey.tsx';
import {
  type Column,
  detailOf,
  isSiteOpen,
  keptStretches,
  linesInCase,
  setsOf,
  siteInHand,
  stretchesOf,
  wireBlocks,
} from './wires.ts';

export type WiresProps = {
  readonly columns: readonly Column[];
  readonly selected: string | undefined;
  /** Takes a line in hand, or lets go of it. */
  readonly onSelect: (line: string | undefined) => void;
};

type Shared = WiresProps & {
  /** Where a tap on the table puts a piece. */
  readonly site: string | undefined;
  /** Tells when something changed that the wires of lines stand on. */
  readonly basis: (lines: readonly string[]) => unknown;
};

const sameList = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((word, index) => word === other[index]);

/** Wires keep their place and their elements from tap to tap: only what changed is drawn again. */
export function Wires(props: WiresProps) {
  const current = useCase();
  const fields = useCaseFields();
  const [chosen, setChosen] = createSignal<string>();
  const { only, showOnly } = createOnly();
  const inCase = createMemo(() => linesInCase(current()), undefined, { equals: sameList });
  const blocks = createMemo(() => wireBlocks(untrack(current).lines.values(), only() ?? inCase()));
  const ids = createMemo(() => blocks().map((block) => block.id), undefined, { equals: sameList });
  const lines = createMemo(() => blocks().flatMap((block) => block.lines), undefined, {
    equals: sameList,
  });
  // A case keeps its sheet.
  const index = indexOf(untrack(current).sheet);
  const site = createSettled(() => {
    const said = chosen();
    return said !== undefined && isSiteOpen(fields(), said) ? said : siteInHand(fields());
  });
  const basis = createBases(fields);
  const open = createMemo(() => openSites(fields()), undefined, { equals: sameList });
  const places = createMemo(() =>
    props.columns.map((column) => placeHead(column, open(), site(), setChosen)),
  );
  return (
    <Show when={ids().length > 0} fallback={<NothingYet />}>
      <Frame
        heading={only() ? say`Only what is inside` : say`All lines`}
        places={places()}
        index={index}
        isPartial={only() !== undefined}
        lines={lines()}
        keys={<InsideKey only={only()} onOnly={showOnly} />}
      >
        <For each={ids()}>
          {(id) => {
            const block = () => blocks().find((one) => one.id === id);
            return (
              <Group
                {...props}
                site={site()}
                basis={basis}
                title={block()?.title ?? ''}
                lines={block()?.lines ?? []}
              />
            );
          }}
        </For>
      </Frame>
    </Show>
  );
}

/** The lines that had a piece inside when it was asked: a row that went would move the next under a finger. */
function createOnly() {
  const [only, setOnly] = createSignal<readonly string[]>();
  const showOnly = (lines: readonly string[] | undefined) => {
    setOnly(lines);
    document.querySelector('.frame-wires > li')?.scrollIntoView({ block: 'start' });
  };
  return { only, showOnly };
}

/** Sites that pieces can go into; none where there is one alone, and nothing to choose. */
function openSites(current: Case): readonly string[] {
  const ids = current.sheet.sites.map(({ id }) => id);
  return ids.length < 2 ? [] : ids.filter((id) => isSiteOpen(current, id));
}

/** With more than one site the head of a column says where pieces go, and a tap changes it. */
function placeHead(
  column: Column,
  open: readonly string[],
  target: string | undefined,
  choose: (site: string) => void,
) {
  const { id } = column;
  const site = isInside(id) ? siteOf(id) : '';
  if (!open.includes(site)) return column;
  return { ...column, isTarget: site === target, onTarget: () => choose(site) };
}

function Group(props: Shared & { readonly title: string; readonly lines: readonly string[] }) {
  const { session, trouble } = useSession();
  const current = useCase();
  const lines = createMemo(() => props.lines, undefined, { equals: sameList });
  // Asked again when something of the group changed, and not with every entry. Lines of no group have no sets.
  const grouped = () => (props.title === '' ? [] : lines());
  const sets = createMemo(
    on([() => props.basis(grouped()), trouble], () =>
      setsOf(current(), grouped())
        .filter((set) => set.moves.every(session.canSend))
        .map(({ label, from, parts, moves }) => ({
          label,
          column: props.columns.findIndex((column) => column.id === from) + 2,
          does: say`Moves ${parts}`,
          onMove: () => {
            for (const move of moves) void session.send(move);
          },
        })),
    ),
    undefined,
    { equals: sameSets },
  );
  const wires = (
    <For each={lines()}>
      {(line) => <LineWire {...props} line={line} isPart={props.title !== ''} />}
    </For>
  );
  return (
    <Show when={props.title !== ''} fallback={wires}>
      <WireGroup name={props.title} sets={sets()}>
        {wires}
      </WireGroup>
    </Show>
  );
}

/** The parts of a group never change, so that keys with the same words move the same. */
const sameSets = (one: readonly SetMove[], other: readonly SetMove[]): boolean =>
  sameList(
    one.map(({ label, column, does }) => `${label} ${column} ${does}`),
    other.map(({ label, column, does }) => `${label} ${column} ${does}`),
  );

/**
 * What a wire stands on: its own pieces, and what decides whether a piece may be moved at all. One tap then draws one
 * wire again, and asks the engine for no other.
 */
function createBases(current: Accessor<Case>): Shared['basis'] {
  type Balances = ReturnType<typeof balancesOf>;
  const known = new Map<string, Signal<Balances>>();
  createComputed(() => {
    const { ledger } = current();
    for (const [line, [, tell]] of known) tell(balancesOf(ledger, line));
  });
  const piecesOf = (line: string): Balances => {
    const there = known.get(line);
    if (there) return there[0]();
    const made = createSignal(balancesOf(untrack(current).ledger, line));
    known.set(line, made);
    return made[0]();
  };
  return (lines) => {
    const { differing, incisionAt, closures, finishedAt } = current();
    return [...lines.map(piecesOf), differing, incisionAt, closures, finishedAt];
  };
}

function NothingYet() {
  const { session } = useSession();
  const current = useCase();
  const station = () => stationOf(current());
  return (
    <section class="empty">
      <h1>{say`Nothing is on the table yet`}</h1>
      <p>
        {say`The counting frame fills with the first count: what two people see is what it starts from.`}
      </p>
      <Show when={station()}>
        {(next) => (
          <Button kind="primary" size={112} onPress={() => session.show(viewOfStation(next()))}>
            {say`Go to: ${next().name}`}
          </Button>
        )}
      </Show>
    </section>
  );
}

function LineWire(props: Shared & { readonly line: string; readonly isPart: boolean }) {
  const { session, trouble } = useSession();
  const current = useCase();
  // What a line is, is never changed in a case.
  const line = untrack(() => current().lines.get(props.line));
  const site: Accessor<string | undefined> = () => props.site;
  const basis = () => props.basis([props.line]);
  // A piece that went in, and can turn or stay there, is in hand at once; any other tap lets go of what was.
  const tap = (move: Move, goesIn: boolean) => {
    void session.send(move);
    props.onSelect(goesIn && hasMoreInside(line) ? props.line : undefined);
  };
  const views = (): readonly StretchView[] =>
    stretchesOf(current(), props.line, props.columns, site()).map(
      ({ move, goesIn, ...stretch }) => ({
        ...stretch,
        onTap: move && session.canSend(move) ? () => tap(move, goesIn) : undefined,
      }),
    );
  const stretches = createMemo(
    on([basis, site, trouble], (_, __, before?: readonly StretchView[]) =>
      keptStretches(before ?? [], views()),
    ),
  );
  return (
    <Wire
      id={props.line}
      name={line?.name ?? props.line}
      detail={detailOf(line)}
      stretches={stretches()}
      isPart={props.isPart}
      isSelected={props.selected === props.line}
      onSelect={() => props.onSelect(props.selected === props.line ? undefined : props.line)}
    />
  );
}

const hasMoreInside = (line: Line | undefined): boolean =>
  line !== undefined && (line.stay.may !== 'no' || line.turns.some((turn) => turn.at !== 'table'));
