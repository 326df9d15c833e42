import { createMemo, For, Show } from 'solid-js';
import type { Line } from '#engine/sheet.ts';
import { ChoiceGrid } from '#parts/ChoiceGrid.tsx';
import { say } from '#words/say.ts';
import { useCase } from '../useSession.ts';
import { isSet, madeOfOthers, type OnShelf, onShelf, type SetOfLines } from './shelf.ts';
import './shelf.css';

export type ShelfProps = {
  /** The lines that a scanned pack can be of; none: all. */
  readonly only: readonly Line[];
  /** What comes apart stands as one. Not for a pack that was scanned: its lot is that of one line. */
  readonly hasSets: boolean;
  readonly onChoose: (line: Line) => void;
  readonly onChooseSet: (set: SetOfLines) => void;
};

/**
 * Every line that can be added, under its heading, and last what is not opened but comes of something else: a cut tail,
 * a fired reload. Or only those that a pack can be of.
 */
export function Shelf(props: ShelfProps) {
  const current = useCase();
  const lines = createMemo(() =>
    props.only.length > 0 ? props.only : current().sheet.lines.filter((line) => line.counted),
  );
  const made = createMemo(() => madeOfOthers(current().sheet.lines));
  const opened = (section: string): readonly OnShelf[] => {
    const own = lines().filter((line) => line.section === section && !made().has(line.id));
    return props.hasSets ? onShelf(own) : own;
  };
  const choose = (one: OnShelf) => (isSet(one) ? props.onChooseSet(one) : props.onChoose(one));
  return (
    <div class="shelf">
      <For each={current().sheet.sections}>
        {(section) => <Board name={section.name} entries={opened(section.id)} onChoose={choose} />}
      </For>
      <Board
        name={say`Comes of something else`}
        entries={lines().filter(({ id }) => made().has(id))}
        onChoose={choose}
      />
    </div>
  );
}

function Board(props: {
  readonly name: string;
  readonly entries: readonly OnShelf[];
  readonly onChoose: (entry: OnShelf) => void;
}) {
  return (
    <Show when={props.entries.length > 0}>
      <h3 class="dialog-part">{props.name}</h3>
      <ChoiceGrid
        label={props.name}
        choices={props.entries.map((entry, at) => ({
          id: `${at}`,
          name: entry.name,
          detail: detailOf(entry),
        }))}
        onChoose={(id) => {
          const entry = props.entries[Number(id)];
          if (entry) props.onChoose(entry);
        }}
      />
    </Show>
  );
}

function detailOf(entry: OnShelf): string | undefined {
  if (isSet(entry)) return say`${entry.lines.length} parts`;
  return entry.pack ? say`pack of ${entry.pack}` : entry.detail;
}
