import { isSiteClosed } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { type Accepted, accept, type Context, type Decision, refuse, warned } from '../decision.ts';
import { at, transfer } from '../ledger.ts';
import { isBeforeIncision } from '../moves/decideMove.ts';
import { hasSurgeonAndOther, peopleFrom, personFrom, samePerson } from '../people.ts';
import { inSite, isInside, type Place, placeFrom, siteOf } from '../places.ts';
import { isQuantity, isText } from '../quantities.ts';
import type { Line } from '../sheet.ts';
import { type Case, discrepancySteps } from '../state.ts';
import type {
  Amend,
  Declare,
  DeferXray,
  DiscrepanciesCommand,
  DiscrepanciesEvent,
  StepDiscrepancy,
  Xray,
} from './events.ts';
import { filmWorth } from './filmWorth.ts';
import { isXrayOwed } from './isXrayOwed.ts';

/** Answers everything about discrepancies and films. */
export function decideDiscrepancies(
  current: Case,
  command: DiscrepanciesCommand,
  context: Context,
): Decision<DiscrepanciesEvent> {
  switch (command.type) {
    case 'discrepancy':
      return decideStep(current, command, context);
    case 'declare':
      return decideDeclare(current, command);
    case 'amend':
      return decideAmend(current, command);
    case 'xray':
      return decideXray(current, command);
    case 'deferXray':
      return decideDefer(current, command);
    default:
      return unreachable(command);
  }
}

/**
 * A step of a discrepancy, done or skipped with a reason; or the piece was found.
 *
 * Refuses, first match wins: unknown-line, unknown-step, name-missing, no-discrepancy; for `found` those of
 * finding.
 * Rules: D1, D2, D3.
 */
function decideStep(
  current: Case,
  command: StepDiscrepancy,
  context: Context,
): Decision<DiscrepanciesEvent> {
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  if (command.step === 'found') return decideFound(current, line, command);
  if (!discrepancySteps.includes(command.step)) return refuse('unknown-step', command.step);
  const doneBy = personFrom(current.team, command.by ?? context.by);
  if (!isText(doneBy)) return refuse('name-missing', command.step);
  const isFilm = command.step === 'xray' && !isText(command.skip);
  if (isFilm && !isText(command.readBy)) return refuse('name-missing', 'readBy');
  const open = current.differing[line.id];
  if (open?.stage !== 'discrepancy') return refuse('no-discrepancy', line.name);
  if (isText(command.skip))
    return accept<DiscrepanciesEvent>({
      type: 'discrepancyStepped',
      line: line.id,
      step: command.step,
      doneBy,
      skipped: command.skip,
    });
  if (command.step !== 'xray')
    return accept<DiscrepanciesEvent>({
      type: 'discrepancyStepped',
      line: line.id,
      step: command.step,
      doneBy,
    });
  return decideXray(current, {
    type: 'xray',
    line: line.id,
    readBy: command.readBy ?? '',
    wholeField: command.wholeField === true,
    result: command.result ?? 'nothing-seen',
  });
}

/**
 * The piece is found. Takes it from where the ledger has it to where it is now.
 *
 * While a line waits for its recounts nothing is said of it, not even which way it differs: it is counted, or
 * moved like any other.
 * Refuses, first match wins: unknown-place, not-a-quantity, not-a-move, before-incision, site-closed,
 * no-discrepancy, discrepancy-over, which-place, not-enough.
 * Rules: D3.
 */
function decideFound(
  current: Case,
  line: Line,
  command: StepDiscrepancy,
): Decision<DiscrepanciesEvent> {
  const n = command.n ?? 1;
  const place = placeFrom(command.place ?? 'off', current.sheet.sites);
  if (place === undefined) return refuse('unknown-place', command.place);
  const named = namedFrom(current, command.from);
  if (named === null) return refuse('unknown-place', command.from);
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (!isInTheField(place)) return refuse('not-a-move', place);
  if (named && named !== 'missing' && !isInTheField(named)) return refuse('not-a-move', named);
  if (isInside(place) && isBeforeIncision(current, siteOf(place)))
    return refuse('before-incision', place);
  if (isInside(place) && isSiteClosed(current, siteOf(place))) return refuse('site-closed', place);
  const open = current.differing[line.id];
  const isMissing = at(current.ledger, line.id, 'missing') > 0;
  if (open?.stage !== 'discrepancy' && !isMissing) return refuse('no-discrepancy', line.name);
  if (open?.stage === 'discrepancy' && open.difference > 0)
    return refuse('discrepancy-over', line.name);
  const from = named ?? (open ? onlyHolder(current, line.id) : 'missing');
  if (from === undefined) return refuse('which-place', line.name);
  if (at(current.ledger, line.id, from) < n) return refuse('not-enough', line.name);
  const postings = from === place ? [] : transfer(line.id, from, place, n);
  return accept<DiscrepanciesEvent>({ type: 'found', line: line.id, n, from, place, postings });
}

/** On the table, in the patient or counted off: where a piece can be lost and found. */
const isInTheField = (place: Place): boolean =>
  place === 'table' || place === 'off' || isInside(place);

/** The place that was said; undefined where none was, null where there is no such place. */
function namedFrom(current: Case, words: string | undefined): Place | undefined | null {
  return words === undefined ? undefined : (placeFrom(words, current.sheet.sites) ?? null);
}

/** The only place of the field where the ledger has pieces of this line; undefined where there are more. */
function onlyHolder(current: Case, line: string): Place | undefined {
  const sites = current.sheet.sites.map((site) => inSite(site.id));
  const places: readonly Place[] = ['table', ...sites, 'off'];
  const holding = places.filter((place) => at(current.ledger, line, place) > 0);
  return holding.length > 1 ? undefined : (holding[0] ?? 'table');
}

/**
 * The surgeon and one other declare pieces unaccounted for.
 *
 * Refuses, first match wins: unknown-line, unknown-place, not-a-quantity, reason-missing, surgeon-missing,
 * not-a-move, no-discrepancy, discrepancy-over, steps-open, which-place, not-enough.
 * Rules: D4.
 */
function decideDeclare(current: Case, command: Declare): Decision<DiscrepanciesEvent> {
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  const named = namedFrom(current, command.from);
  if (named === null) return refuse('unknown-place', command.from);
  const { n, reason } = command;
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (!isText(reason)) return refuse('reason-missing', line.name);
  const agreedBy = peopleFrom(current.team, command.by ?? []);
  if (!hasSurgeonAndOther(current, agreedBy)) return refuse('surgeon-missing', line.name);
  if (named && !isInTheField(named)) return refuse('not-a-move', named);
  const open = current.differing[line.id];
  if (open?.stage !== 'discrepancy') return refuse('no-discrepancy', line.name);
  if (open.difference > 0) return refuse('discrepancy-over', line.name);
  const undone = discrepancySteps.find((step) => open.steps[step] === undefined);
  if (undone) return refuse('steps-open', undone);
  const from = named ?? onlyHolder(current, line.id);
  if (from === undefined) return refuse('which-place', line.name);
  if (-open.difference < n || at(current.ledger, line.id, from) < n)
    return refuse('not-enough', line.name);
  const postings = transfer(line.id, from, 'missing', n);
  return accept<DiscrepanciesEvent>({
    type: 'declared',
    line: line.id,
    n,
    from,
    reason,
    agreedBy,
    postings,
  });
}

/**
 * Scrub, circulator and surgeon agree in writing that an addition was not recorded.
 *
 * Refuses, first match wins: unknown-line, not-a-quantity, reason-missing, two-people, surgeon-missing,
 * no-discrepancy, discrepancy-short, not-enough.
 * Rules: D5.
 */
function decideAmend(current: Case, command: Amend): Decision<DiscrepanciesEvent> {
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  const { n, reason } = command;
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (!isText(reason)) return refuse('reason-missing', line.name);
  const agreedBy = peopleFrom(current.team, command.by ?? []);
  const { scrub, circulator } = current.team;
  const hasBoth = [scrub, circulator].every((name) =>
    agreedBy.some((one) => samePerson(one, name)),
  );
  if (!hasBoth) return refuse('two-people', line.name);
  if (!hasSurgeonAndOther(current, agreedBy)) return refuse('surgeon-missing', line.name);
  const open = current.differing[line.id];
  if (open?.stage !== 'discrepancy') return refuse('no-discrepancy', line.name);
  if (open.difference < 0) return refuse('discrepancy-short', line.name);
  if (open.difference - open.amended < n) return refuse('not-enough', line.name);
  const postings = transfer(line.id, 'supply', 'table', n);
  return accept<DiscrepanciesEvent>({
    type: 'amended',
    line: line.id,
    n,
    reason,
    agreedBy,
    postings,
  });
}

/**
 * A film was read.
 *
 * Refuses, first match wins: malformed, unknown-line, name-missing.
 * Rules: D6, D7.
 */
function decideXray(current: Case, command: Xray): Decision<DiscrepanciesEvent> {
  if (command.result !== 'nothing-seen' && command.result !== 'seen')
    return refuse('malformed', 'result');
  const line = command.line === undefined ? undefined : current.lines.get(command.line);
  if (command.line !== undefined && !line) return refuse('unknown-line', command.line);
  if (!isText(command.readBy)) return refuse('name-missing', 'readBy');
  const readBy = personFrom(current.team, command.readBy);
  const { wholeField, result } = command;
  const film = { type: 'xrayRead', wholeField: wholeField === true, result, readBy } as const;
  const decision = accept<DiscrepanciesEvent>(line ? { ...film, line: line.id } : film);
  return saidOfFilm(current, decision, command, line);
}

function saidOfFilm(
  current: Case,
  decision: Accepted<DiscrepanciesEvent>,
  film: Xray,
  line: Line | undefined,
): Accepted<DiscrepanciesEvent> {
  let said = decision;
  if (!film.wholeField) said = warned(said, 'film-part');
  if (film.result === 'nothing-seen') said = warned(said, 'film-negative');
  if (line && filmWorth(line, current.sheet.policy).level !== 'shows')
    said = warned(said, 'film-poor');
  return said;
}

/** Refuses, first match wins: reason-missing, surgeon-missing, no-xray-owed. Rules: D7. */
function decideDefer(current: Case, command: DeferXray): Decision<DiscrepanciesEvent> {
  if (!isText(command.reason)) return refuse('reason-missing');
  const agreedBy = peopleFrom(current.team, command.by ?? []);
  if (!hasSurgeonAndOther(current, agreedBy)) return refuse('surgeon-missing');
  if (!isXrayOwed(current)) return refuse('no-xray-owed');
  return accept<DiscrepanciesEvent>({ type: 'xrayDeferred', reason: command.reason, agreedBy });
}
