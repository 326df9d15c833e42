import { isSiteClosed } from '../applies.ts';
import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { at, type Posting } from '../ledger.ts';
import { isInside, type Place, placeFrom, siteOf } from '../places.ts';
import { isMeasure, isQuantity } from '../quantities.ts';
import type { Line, Turn } from '../sheet.ts';
import type { Case, LeftPieces } from '../state.ts';
import { noSiteOpen } from './decideMove.ts';
import type { Break, MovesEvent, TurnPiece } from './events.ts';
import { lotOf } from './lotOf.ts';
import { siteMeant } from './siteMeant.ts';

/**
 * Pieces turn into other pieces, as the sheet says.
 *
 * Units: `n` pieces that turn; `into` pieces that each was cut into; `lengthCm` of each in centimetres.
 * Refuses, first match wins: unknown-line, not-cuttable, unknown-turn, unknown-place, not-a-quantity,
 * wrong-place, before-incision, site-closed, which-place, not-enough.
 * Rules: L10.
 */
export function decideTurn(
  current: Case,
  command: TurnPiece,
  context: Context,
): Decision<MovesEvent> {
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  const turn = line.turns.find((known) => known.id === command.turn);
  if (!turn) return refuse(line.cuttable ? 'unknown-turn' : 'not-cuttable', command.turn);
  const place = placeFrom(command.at, current.sheet.sites);
  if (place === undefined) return refuse('unknown-place', command.at);
  const { n, into } = command;
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (turn.asks !== undefined && !isQuantity(into)) return refuse('not-a-quantity', turn.asks);
  if (!canTurnAt(turn, place)) return refuse('wrong-place', line.name);
  const shut = shutTo(current, turn, place);
  if (shut) return refuse(shut, line.name);
  const site = isInside(place) ? siteOf(place) : siteMeant(current, undefined);
  if (site === undefined && turn.gives.some((given) => given.place === 'patient'))
    return refuse('which-place', line.name);
  if (at(current.ledger, line.id, place) < n) return refuse('not-enough', line.name);

  const given = turn.gives.map((one) => ({
    line: one.line,
    n: n * (one.n === 'asked' ? (into ?? 0) : one.n),
    place: placeOfGiven(one.place, place, site),
  }));
  if (given.some((one) => !isQuantity(one.n))) return refuse('not-a-quantity', turn.asks);
  // Left out and not undefined: an event is written down as text.
  const where = site === undefined ? {} : { site };
  const known = lotOf(current, line.id);
  const lot = known === undefined ? {} : { lot: known };
  const left = Object.fromEntries(
    given
      .filter((one) => one.place === 'stays')
      .map((one) => [
        one.line,
        { n: one.n, at: context.at, ...where, ...lot } satisfies LeftPieces,
      ]),
  );
  return accept<MovesEvent>({
    type: 'turned',
    line: line.id,
    turn: turn.id,
    name: turn.name,
    place,
    n,
    left,
    postings: turnPostings(line.id, place, n, given),
    ...(into !== undefined && turn.asks !== undefined ? { into } : {}),
    ...(isMeasure(command.lengthCm) ? { lengthCm: command.lengthCm } : {}),
  });
}

/** Why a piece cannot turn at this place now: what it gives goes into the patient, or is there already. */
function shutTo(
  current: Case,
  turn: Turn,
  place: Place,
): 'before-incision' | 'site-closed' | undefined {
  if (isInside(place)) return isSiteClosed(current, siteOf(place)) ? 'site-closed' : undefined;
  const enters = turn.gives.some((given) => given.place === 'patient' || given.place === 'stays');
  return enters ? noSiteOpen(current) : undefined;
}

type Given = { readonly line: string; readonly n: number; readonly place: Place };

function turnPostings(
  line: string,
  place: Place,
  n: number,
  given: readonly Given[],
): readonly Posting[] {
  const ends: readonly Posting[] = [
    { line, place, by: -n },
    { line, place: 'changed', by: n },
  ];
  const begins = given.flatMap((one): readonly Posting[] => [
    { line: one.line, place: 'changed', by: -one.n },
    { line: one.line, place: one.place, by: one.n },
  ]);
  return [...ends, ...begins];
}

function canTurnAt(turn: Turn, place: Place): boolean {
  if (turn.at === 'table') return place === 'table';
  if (turn.at === 'patient') return isInside(place);
  return isInside(place) || place === 'table' || place === 'off';
}

function placeOfGiven(
  given: Turn['gives'][number]['place'],
  here: Place,
  site: string | undefined,
): Place {
  if (given === 'here') return here;
  if (given === 'patient') return isInside(here) ? here : `patient/${site}`;
  return given;
}

/**
 * A piece breaks into fragments, each to be accounted for.
 *
 * Units: `into` 2 to 999 fragments; `lengths` in millimetres, one a fragment.
 * Refuses, first match wins: unknown-line, not-cuttable, unknown-place, not-a-quantity, not-a-number,
 * wrong-place, not-enough.
 * Rules: L11.
 */
export function decideBreak(current: Case, command: Break): Decision<MovesEvent> {
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  if (!line.cuttable) return refuse('not-cuttable', line.name);
  const place = placeFrom(command.at, current.sheet.sites);
  if (place === undefined) return refuse('unknown-place', command.at);
  const { into, lengths } = command;
  if (!isQuantity(into) || into < 2) return refuse('not-a-quantity', 'into');
  if (lengths && (lengths.length !== into || !lengths.every((mm) => isMeasure(mm) && mm > 0)))
    return refuse('not-a-number', 'lengths');
  if (!isInside(place) && place !== 'table' && place !== 'off')
    return refuse('wrong-place', line.name);
  if (at(current.ledger, line.id, place) < 1) return refuse('not-enough', line.name);

  const fragment = current.lines.get(fragmentIdOf(line.id)) ?? fragmentOf(line);
  const postings = turnPostings(line.id, place, 1, [{ line: fragment.id, n: into, place }]);
  return accept<MovesEvent>({
    type: 'broken',
    line: line.id,
    fragment,
    place,
    into,
    postings,
    ...(lengths ? { lengths } : {}),
  });
}

const fragmentIdOf = (line: string): string => `${line}-fragment`;

function fragmentOf(line: Line): Line {
  return {
    id: fragmentIdOf(line.id),
    name: `${line.name}: fragment`,
    section: line.section,
    ...(line.group === undefined ? {} : { group: line.group }),
    class: 'small',
    opening: 0,
    tracked: true,
    counted: true,
    stay: { may: 'no' },
    film: line.film,
    cuttable: true,
    brings: [],
    turns: [],
    source: line.source,
  };
}
