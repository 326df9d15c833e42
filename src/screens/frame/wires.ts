import { closuresOf } from '#engine/applies.ts';
import { at, insideOf } from '#engine/ledger.ts';
import type { Move } from '#engine/moves/events.ts';
import { inSite, isInside, type Place } from '#engine/places.ts';
import { placeWords } from '#engine/placeWords.ts';
import type { Line } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import type { StretchView } from '#parts/Stretch.tsx';
import { say, sayInside } from '#words/say.ts';

/** A column of the counting frame. */
export type Column = {
  readonly id: Place;
  readonly label: string;
  readonly tone: 'table' | 'inside' | 'off' | 'stays';
};

/** Table, each site of the patient, off the field, stays. */
export function columnsOf(current: Case): readonly Column[] {
  const { sites } = current.sheet;
  const inside = sites.map(
    (site): Column => ({
      id: inSite(site.id),
      label: sites.length === 1 ? say`In the patient` : say`In: ${sayInside(site.name)}`,
      tone: 'inside',
    }),
  );
  return [
    { id: 'table', label: say`On the table`, tone: 'table' },
    ...inside,
    { id: 'off', label: say`Off the field`, tone: 'off' },
    { id: 'stays', label: say`Stays`, tone: 'stays' },
  ];
}

/**
 * The site that pieces go into until the team says another: of those that are open, the one that is closed last.
 * A cavity inside another is asked for; an orifice never comes by itself.
 */
export function siteInHand(current: Case): string | undefined {
  const { sites } = current.sheet;
  const closures = closuresOf(current);
  const order = (site: string) => closures.findLastIndex((one) => one.sites.includes(site));
  const open = sites.filter((site) => site.kind !== 'orifice' && isSiteOpen(current, site.id));
  const [last] = open.toSorted((one, other) => order(other.id) - order(one.id));
  return (last ?? sites[0])?.id;
}

/** Whether something may still be put there: one of the closures that close it is not made. */
export function isSiteOpen(current: Case, site: string): boolean {
  const own = closuresOf(current).filter((closure) => closure.sites.includes(site));
  return own.length === 0 || own.some((one) => current.closures[one.id]?.closedAt === undefined);
}

/** Lines of the case that have a piece in the patient now. */
export const linesInside = (current: Case): readonly string[] =>
  [...current.lines.keys()].filter((id) => insideOf(current.ledger, id) > 0);

/** A set of a group: one of each part that is used together, in its site. */
export type SetOfParts = {
  readonly label: string;
  readonly from: Place;
  readonly parts: string;
  readonly moves: readonly Move[];
};

/** The parts of a group that sit in the wall while the case goes on: in together, out together. */
export function setsOf(current: Case, lines: readonly string[]): readonly SetOfParts[] {
  const closure = current.sheet.closures.find((one) =>
    lines.some((line) => one.inUse.includes(line)),
  );
  const site = closure?.sites[0];
  const parts = lines.filter((line) => closure?.inUse.includes(line));
  if (site === undefined || parts.length < 2) return [];
  const names = parts.map((line) => current.lines.get(line)?.name ?? line).join(', ');
  const wall = inSite(site);
  const set = (label: string, from: Place, to: Place): readonly SetOfParts[] =>
    parts.every((line) => piecesAt(current, line, from) > 0)
      ? [
          {
            label,
            from,
            parts: names,
            moves: parts.map((line) => ({ type: 'move', line, from, to, n: 1 })),
          },
        ]
      : [];
  return [...set(say`One set in`, 'table', wall), ...set(say`One set out`, wall, 'table')];
}

/** Lines that stand together, under a heading where they are one group. */
export type WireBlock = {
  readonly id: string;
  /** Empty where there is no group. */
  readonly title: string;
  readonly lines: readonly string[];
};

/**
 * The lines that are shown, in the order of the sheet, which never changes; those of a group stand together.
 */
export function wireBlocks(lines: Iterable<Line>, shown: readonly string[]): readonly WireBlock[] {
  const blocks = new Map<string, { readonly title: string; readonly lines: string[] }>();
  let last = '';
  for (const line of lines) {
    // What is in no group is called after the part before it, whether that is in the case or not.
    const id = line.group ?? `${last}+`;
    const block = blocks.get(id) ?? { title: line.group ?? '', lines: [] };
    blocks.set(id, block);
    if (shown.includes(line.id)) block.lines.push(line.id);
    if (line.group !== undefined) last = line.id;
  }
  return [...blocks]
    .map(([id, block]) => ({ id, ...block }))
    .filter((block) => block.lines.length > 0);
}

/** Lines of which a piece was introduced. */
export const linesInCase = (current: Case): readonly string[] =>
  [...current.lines.values()].filter((line) => isInCase(current, line)).map(({ id }) => id);

const isInCase = ({ ledger }: Case, { id }: Line): boolean =>
  at(ledger, id, 'supply') !== 0 || at(ledger, id, 'changed') !== 0;

/** The small words under a line's name. */
export function detailOf(line: Line | undefined): string | undefined {
  if (!line) return undefined;
  const pack = line.pack ? say`packs of ${line.pack}` : undefined;
  const film = line.film === 'no' && line.tracked ? say`no film shows it` : undefined;
  const counted = line.tracked ? undefined : say`only counted`;
  return [line.detail, pack, film, counted].filter(Boolean).join(' · ') || undefined;
}

/**
 * Where one tap on a stretch moves a piece; undefined where a tap does nothing.
 *
 * `site` is where pieces go in: with more than one, the team says which.
 */
function tapTarget(line: Line, place: Place, site: string | undefined): Place | undefined {
  if (place === 'table') return line.tracked && site !== undefined ? inSite(site) : 'off';
  if (isInside(place))
    return line.class === 'instrument' || line.group !== undefined ? 'table' : 'off';
  return place === 'off' ? 'table' : undefined;
}

export const piecesAt = (current: Case, line: string, place: Place): number =>
  at(current.ledger, line, place);

/** The stretches of a wire in the order of the columns, and the move that a tap asks for. */
export function stretchesOf(
  current: Case,
  id: string,
  columns: readonly Column[],
  site: string | undefined,
) {
  const line = current.lines.get(id);
  // To be counted again without knowing: what lies on the table and off the field is not in the page.
  const isBlind = current.differing[id]?.stage === 'recount';
  return columns.map((column) => {
    const pieces = piecesAt(current, id, column.id);
    const to = line && pieces > 0 ? tapTarget(line, column.id, site) : undefined;
    const move: Move | undefined = to && { type: 'move', line: id, from: column.id, to, n: 1 };
    return {
      place: column.id,
      placeWords: sayInside(column.label),
      tone: column.tone,
      pieces: isBlind && column.tone !== 'inside' && column.tone !== 'stays' ? undefined : pieces,
      does: to && say`moves one to ${placeWords(current, to)}`,
      move,
      goesIn: to !== undefined && isInside(to),
    };
  });
}

/** A move changes two stretches of a wire: the others stay what they were, and nothing of them is drawn again. */
export const keptStretches = (
  before: readonly StretchView[],
  now: readonly StretchView[],
): readonly StretchView[] =>
  now.map((stretch, n) => {
    const old = before[n];
    return old && isSameStretch(old, stretch) ? old : stretch;
  });

/** What a tap does is said in its words. */
const isSameStretch = (one: StretchView, other: StretchView): boolean =>
  one.place === other.place &&
  one.placeWords === other.placeWords &&
  one.pieces === other.pieces &&
  one.does === other.does &&
  (one.onTap === undefined) === (other.onTap === undefined);
