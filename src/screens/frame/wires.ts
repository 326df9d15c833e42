import { placeWords } from '#engine/case/placeWords.ts';
import { at, rowOf } from '#engine/ledger.ts';
import type { Move } from '#engine/moves/events.ts';
import { inSite, type Place } from '#engine/places.ts';
import type { Line } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';

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
      label: sites.length === 1 ? 'In the patient' : `In: ${site.name.toLowerCase()}`,
      tone: 'inside',
    }),
  );
  return [
    { id: 'table', label: 'On the table', tone: 'table' },
    ...inside,
    { id: 'off', label: 'Off the field', tone: 'off' },
    { id: 'stays', label: 'Stays', tone: 'stays' },
  ];
}

/** Lines under one heading; no heading where the title is empty. In an order that never changes. */
export type WireGroup = { readonly title: string; readonly lines: readonly string[] };

/** Lines that are in the case: followed ones first, then what comes apart, then those only counted. */
export function wireGroups(current: Case): readonly WireGroup[] {
  const shown = [...current.lines.values()].filter((line) => isInCase(current, line));
  const followed = shown.filter((line) => line.tracked && line.group === undefined);
  const counted = shown.filter((line) => !line.tracked && line.group === undefined);
  const groups = new Map<string, string[]>();
  for (const line of shown)
    if (line.group !== undefined)
      groups.set(line.group, [...(groups.get(line.group) ?? []), line.id]);
  const all: WireGroup[] = [
    { title: '', lines: followed.map((line) => line.id) },
    ...[...groups].map(([title, lines]) => ({ title, lines })),
    { title: 'Counted, not followed in and out', lines: counted.map((line) => line.id) },
  ];
  return all.filter((group) => group.lines.length > 0);
}

/** A line is in the case once a piece of it was introduced. */
function isInCase(current: Case, line: Line): boolean {
  const row = rowOf(current.ledger, line.id);
  return row.supply !== 0 || row.changed !== 0;
}

/** The small words under a line's name. */
export function detailOf(line: Line | undefined): string | undefined {
  if (!line) return undefined;
  const pack = line.pack ? `packs of ${line.pack}` : undefined;
  const film = line.film === 'no' && line.tracked ? 'no film shows it' : undefined;
  return [line.detail, pack, film].filter(Boolean).join(' · ') || undefined;
}

/** Where one tap on a stretch moves a piece; undefined where a tap does nothing. */
function tapTarget(current: Case, line: Line, place: Place): Place | undefined {
  if (place === 'table') {
    const site = current.sheet.sites[0];
    return line.tracked && site ? inSite(site.id) : 'off';
  }
  if (place.startsWith('patient/'))
    return line.class === 'instrument' || line.group !== undefined ? 'table' : 'off';
  return place === 'off' ? 'table' : undefined;
}

export const piecesAt = (current: Case, line: string, place: Place): number =>
  at(current.ledger, line, place);

/** The stretches of a wire in the order of the columns, and the move that a tap asks for. */
export function stretchesOf(current: Case, id: string, columns: readonly Column[]) {
  const line = current.lines.get(id);
  // To be counted again without knowing: what lies on the table and off the field is not in the page.
  const isBlind = current.differing[id]?.stage === 'recount';
  return columns.map((column) => {
    const pieces = piecesAt(current, id, column.id);
    const to = line && pieces > 0 ? tapTarget(current, line, column.id) : undefined;
    const move: Move | undefined = to && { type: 'move', line: id, from: column.id, to, n: 1 };
    return {
      place: column.id,
      placeWords: column.label.toLowerCase(),
      tone: column.tone,
      pieces: isBlind && column.tone !== 'inside' && column.tone !== 'stays' ? undefined : pieces,
      does: to && `moves one to ${placeWords(current, to)}`,
      move,
    };
  });
}
