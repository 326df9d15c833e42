import type { Line, Sheet } from '#engine/sheet.ts';
import type { IndexEntry } from '#parts/FrameIndex.tsx';

/** So many keys stand side by side on the smallest tablet, each as wide as a finger. */
const most = 7;

/** Lines that are in sight together on the smallest tablet. */
const inSight = 5;

/**
 * What the keys below the frame bring into sight: the sections of the sheet, by what their name says before its first
 * comma. Short neighbours share a key where there are too many; a long section has more than one where there is room,
 * the next named after the group or line that it begins with. The same all through a case, whatever is opened.
 */
export function indexOf({
  sections,
  lines,
}: Pick<Sheet, 'sections' | 'lines'>): readonly IndexEntry[] {
  const parts = sections
    .map(
      ({ id, name, short }): Part => ({
        names: [short ?? name.split(',')[0] ?? name],
        lines: lines.filter((line) => line.section === id),
      }),
    )
    .filter((part) => part.lines.length > 0);
  while (parts.length > most) joinShortest(parts);
  while (parts.length < most && splitLongest(parts));
  return parts.map(({ names, lines }) => ({
    name: [...new Set(names)].join(', '),
    lines: lines.map(({ id }) => id),
  }));
}

type Part = { readonly names: readonly string[]; readonly lines: readonly Line[] };

/** The two neighbours that have the fewest lines between them become one. */
function joinShortest(parts: Part[]): void {
  const sums = parts.slice(1).map((part, index) => part.lines.length + lengthOf(parts[index]));
  const at = sums.indexOf(Math.min(...sums));
  const [one, other] = parts.slice(at, at + 2);
  if (one && other)
    parts.splice(at, 2, {
      names: [...one.names, ...other.names],
      lines: [...one.lines, ...other.lines],
    });
}

const lengthOf = (part: Part | undefined): number => part?.lines.length ?? 0;

/** The longest becomes two, where a group ends if it has groups. Tells whether one was long enough. */
function splitLongest(parts: Part[]): boolean {
  const at = parts.map(lengthOf).indexOf(Math.max(...parts.map(lengthOf)));
  const part = parts[at];
  if (!part || part.lines.length <= inSight) return false;
  const middle = part.lines.length / 2;
  const between = part.lines.map((_, index) => index).slice(1);
  const ends = between.filter((index) => isGroupStart(part.lines, index));
  const [cut] = (ends.length > 0 ? ends : between).toSorted(
    (one, other) => Math.abs(one - middle) - Math.abs(other - middle),
  );
  const next = part.lines[cut ?? 0];
  if (cut === undefined || !next) return false;
  parts.splice(
    at,
    1,
    { names: part.names, lines: part.lines.slice(0, cut) },
    { names: [next.group ?? next.name], lines: part.lines.slice(cut) },
  );
  return true;
}

/** Whether another group, or none, begins with that line. */
const isGroupStart = (lines: readonly Line[], index: number): boolean =>
  lines[index]?.group !== lines[index - 1]?.group;
