import type { Command } from '#engine/case/events.ts';
import { isExplained } from '#engine/moves/isExplained.ts';
import { inSite, isInside, type Place } from '#engine/places.ts';
import { placeWords } from '#engine/placeWords.ts';
import type { Line, Turn } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { piecesAt } from './wires.ts';

/** One thing that can be done with a piece of the line in hand. */
export type LineAct = {
  readonly id: string;
  readonly label: string;
  readonly detail?: string | undefined;
  /** Undefined: more must be said first, on the line's own sheet. */
  readonly command: Command | undefined;
};

/** Where a piece of a line can be moved from, in the order in which it is looked for. */
const placesOf = (current: Case): readonly Place[] => [
  ...current.sheet.sites.map((site) => inSite(site.id)),
  'table',
  'off',
];

/** The place where a piece of the line is that this turn can be done with; undefined where none is. */
export function turnPlace(current: Case, line: Line, turn: Turn): Place | undefined {
  return placesOf(current).find(
    (place) =>
      piecesAt(current, line.id, place) > 0 &&
      (turn.at === 'any' || (turn.at === 'table' ? place === 'table' : isInside(place))),
  );
}

/**
 * What is done most with the line in hand and needs no further word: its turns, and the moves that no tap on the
 * frame makes. Only what can be done now.
 */
export function lineActs(current: Case, line: Line): readonly LineAct[] {
  return [
    ...turnActs(current, line),
    ...stayActs(current, line),
    ...tableActs(current, line),
    ...siteActs(current, line),
  ];
}

function turnActs(current: Case, line: Line): readonly LineAct[] {
  return line.turns.flatMap((turn): readonly LineAct[] => {
    const at = turnPlace(current, line, turn);
    if (at === undefined) return [];
    const asks = turn.asks !== undefined;
    const command: Command = { type: 'turn', line: line.id, turn: turn.id, at, n: 1 };
    return [
      {
        id: `turn-${turn.id}`,
        label: asks ? `${turn.name}…` : turn.name,
        command: asks ? undefined : command,
      },
    ];
  });
}

/** Staying on purpose, from wherever the piece is; what must be said of it is asked on the line's own sheet. */
function stayActs(current: Case, line: Line): readonly LineAct[] {
  if (line.stay.may === 'no') return [];
  const unsaid = (current.left[line.id] ?? []).some((pieces) => !isExplained(line, pieces));
  const why: readonly LineAct[] = unsaid
    ? [{ id: 'why', label: say`Say why it stays…`, command: undefined }]
    : [];
  const from = placesOf(current).find(
    (place) => isInside(place) && piecesAt(current, line.id, place) > 0,
  );
  if (from === undefined) return why;
  const command: Command = { type: 'move', line: line.id, from, to: 'stays', n: 1 };
  // Which of several sites it leaves is said; with one there is no question.
  const detail = current.sheet.sites.length > 1 ? placeWords(current, from) : undefined;
  return [{ id: 'stays', label: say`Stays on purpose`, detail, command }, ...why];
}

/** Off the field without having been in the patient: a tap on the table puts a followed piece inside. */
function tableActs(current: Case, line: Line): readonly LineAct[] {
  if (!line.tracked || piecesAt(current, line.id, 'table') === 0) return [];
  const command: Command = { type: 'move', line: line.id, from: 'table', to: 'off', n: 1 };
  return [{ id: 'off', label: say`Table to off the field`, command }];
}

/** Out of the patient to where a tap does not put it, or from one site to another. */
function siteActs(current: Case, line: Line): readonly LineAct[] {
  const sites = current.sheet.sites.map((site) => inSite(site.id));
  const from = sites.find((place) => piecesAt(current, line.id, place) > 0);
  if (from === undefined) return [];
  const goesBack = line.class === 'instrument' || line.group !== undefined;
  const to = goesBack ? 'off' : 'table';
  const out: Command = { type: 'move', line: line.id, from, to, n: 1 };
  return [
    {
      id: `out-${to}`,
      label: to === 'off' ? say`Out, off the field` : say`Out, to the table`,
      command: out,
    },
  ];
}
