import { isInUse, isSiteClosed } from '../applies.ts';
import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { at, transfer } from '../ledger.ts';
import { isInside, type Place, placeFrom, siteOf } from '../places.ts';
import { isQuantity, isText } from '../quantities.ts';
import type { Case, LeftPieces } from '../state.ts';
import { canRide } from './canRide.ts';
import type { Move, MovesEvent } from './events.ts';
import { lotOf } from './lotOf.ts';

/**
 * Moves pieces of one line from a place to another.
 *
 * Units: `n` is whole pieces, 1 to 999.
 * Refuses, first match wins: unknown-line, unknown-place, not-a-quantity, name-missing, same-place,
 * not-a-move, not-with-specimen, before-incision, site-closed, not-enough.
 * A move to `specimen` also refuses not-taken-yet while no specimen of the case is out.
 * Rules: L2, L5, L6, L7, L14.
 */
export function decideMove(current: Case, command: Move, context: Context): Decision<MovesEvent> {
  const { line, n } = command;
  const known = current.lines.get(line);
  if (!known) return refuse('unknown-line', line);
  const from = placeFrom(command.from, current.sheet.sites);
  const to = placeFrom(command.to, current.sheet.sites);
  if (from === undefined) return refuse('unknown-place', command.from);
  if (to === undefined) return refuse('unknown-place', command.to);
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (to === 'away' && !isText(command.with)) return refuse('name-missing', 'with');
  if (from === to) return refuse('same-place', to);
  if (isClosedToMoves(from) || isClosedToMoves(to)) return refuse('not-a-move');
  if (to === 'specimen') {
    if (!canRide(known)) return refuse('not-with-specimen', known.name);
    if (!isAnyTaken(current)) return refuse('not-taken-yet', known.name);
  }
  if (isInside(to) && isBeforeIncision(current, siteOf(to))) return refuse('before-incision', to);
  if (isInside(to) && isSiteClosed(current, siteOf(to))) return refuse('site-closed', siteOf(to));
  if (to === 'stays' && !isInside(from)) {
    const shut = noSiteOpen(current);
    if (shut) return refuse(shut, to);
  }
  if (at(current.ledger, line, from) < n) return refuse('not-enough', known.name);

  const left = to === 'stays' ? leftBy(command, from, context.at, lotOf(current, line)) : undefined;
  const inUse = isInside(from) && !isInside(to) && isTakenOut(to) && isInUse(current, line);
  return accept<MovesEvent>({
    type: 'moved',
    line,
    from,
    to,
    n,
    postings: transfer(line, from, to, n),
    inUse,
    ...(to === 'away' && command.with !== undefined ? { with: command.with.trim() } : {}),
    ...(left ? { left } : {}),
  });
}

/** What stays or goes with a specimen is not taken out: it is no longer counted. */
const isTakenOut = (to: Place): boolean => to !== 'stays' && to !== 'specimen';

const isAnyTaken = (current: Case): boolean =>
  Object.values(current.specimens).some(({ stage }) => stage !== 'planned' && stage !== 'notTaken');

const isClosedToMoves = (place: Place): boolean =>
  place === 'supply' || place === 'changed' || place === 'missing';

/** What stays is in the patient: it gets there by a site that is open. Why none is, or undefined. */
export function noSiteOpen(current: Case): 'before-incision' | 'site-closed' | undefined {
  const { sites } = current.sheet;
  const entered = sites.filter((site) => !isBeforeIncision(current, site.id));
  if (entered.length === 0) return 'before-incision';
  return entered.every((site) => isSiteClosed(current, site.id)) ? 'site-closed' : undefined;
}

/** An orifice is open before any incision is made. */
export function isBeforeIncision(current: Case, site: string): boolean {
  if (current.incisionAt !== undefined) return false;
  return current.sheet.sites.find((known) => known.id === site)?.kind !== 'orifice';
}

function leftBy(
  command: Move,
  from: Place,
  at_: string,
  scannedLot: string | undefined,
): LeftPieces {
  const lot = isText(command.lot) ? command.lot : scannedLot;
  return {
    n: command.n,
    at: at_,
    ...(isInside(from) ? { site: siteOf(from) } : {}),
    ...(isText(command.reason) ? { reason: command.reason } : {}),
    ...(isText(command.where) ? { where: command.where } : {}),
    ...(lot === undefined ? {} : { lot }),
  };
}
