import type { Line } from '#engine/sheet.ts';

/** The parts of one thing that is opened whole: a port with its cannula, obturator and seal. */
export type SetOfLines = { readonly name: string; readonly lines: readonly Line[] };

/** What stands on the shelf: a line, or what is opened as a set. */
export type OnShelf = Line | SetOfLines;

export const isSet = (one: OnShelf): one is SetOfLines => 'lines' in one;

/** Lines that a turn of another line or its pack gives: a cut tail, a fired reload. */
export const madeOfOthers = (lines: readonly Line[]): ReadonlySet<string> =>
  new Set(
    lines.flatMap(({ id, turns, brings }) =>
      [...turns.flatMap(({ gives }) => gives), ...brings]
        .map(({ line }) => line)
        .filter((line) => line !== id),
    ),
  );

/** Lines in their order, those of a group together as one set where the first of it stands. */
export function onShelf(lines: readonly Line[]): readonly OnShelf[] {
  const groups = new Map<string, readonly Line[]>();
  for (const line of lines) {
    const name = line.group ?? line.id;
    groups.set(name, [...(groups.get(name) ?? []), line]);
  }
  return [...groups].map(([name, all]) => {
    const [first, ...others] = all;
    return first && others.length === 0 ? first : { name, lines: all };
  });
}
