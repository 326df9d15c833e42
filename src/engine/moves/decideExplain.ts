import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { at, insideOf, transfer } from '../ledger.ts';
import { hasSurgeonAndOther, peopleFrom, personFrom, samePerson } from '../people.ts';
import { inSite } from '../places.ts';
import { isQuantity, isText } from '../quantities.ts';
import type { Line } from '../sheet.ts';
import type { Case, LeftPieces } from '../state.ts';
import type { Explain, MovesEvent, SearchedNone } from './events.ts';
import { isExplained } from './isExplained.ts';
import { lengthsDiffer } from './lengthsDiffer.ts';
import { siteMeant } from './siteMeant.ts';

/**
 * Says why something stays, or accepts that fragments do not add up.
 *
 * A line that may not stay goes from its site to `stays`, with the surgeon and one other: a lasting exception.
 * Refuses, first match wins: unknown-line, unknown-site, not-a-quantity, reason-missing, surgeon-missing,
 * which-place, not-enough.
 * Rules: L9.
 */
export function decideExplain(
  current: Case,
  command: Explain,
  context: Context,
): Decision<MovesEvent> {
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  if (command.site !== undefined && siteMeant(current, command.site) === undefined)
    return refuse('unknown-site', command.site);
  if (command.n !== undefined && !isQuantity(command.n)) return refuse('not-a-quantity', 'n');
  if (!isText(command.reason) && !isText(command.where) && !isText(command.lot))
    return refuse('reason-missing', line.name);
  const by = peopleFrom(current.team, command.by ?? []);
  const isDecision = line.stay.may === 'no';
  if (isDecision && !isText(command.reason)) return refuse('reason-missing', line.name);
  if (isDecision && !hasSurgeonAndOther(current, by)) return refuse('surgeon-missing', line.name);

  const left = current.left[line.id] ?? [];
  if (left.some((pieces) => !isExplained(line, pieces))) {
    const filled = left.map((pieces) => filledIn(line, pieces, command, by));
    return accept<MovesEvent>({ type: 'explained', line: line.id, left: filled, postings: [] });
  }
  if (insideOf(current.ledger, line.id) > 0)
    return leaveInside(current, { command, line, by, at: context.at });
  const lengths = lengthsDiffer(current, line.id);
  if (lengths && isText(command.reason))
    return accept<MovesEvent>({
      type: 'explained',
      line: line.id,
      left,
      postings: [],
      lengths: command.reason,
    });
  if (left.length === 0) return refuse('not-enough', line.name);
  const again = left.map((pieces) => said(pieces, command));
  return accept<MovesEvent>({ type: 'explained', line: line.id, left: again, postings: [] });
}

type Leaving = {
  readonly command: Explain;
  readonly line: Line;
  readonly by: readonly string[];
  readonly at: string;
};

function leaveInside(current: Case, { command, line, by, at: at_ }: Leaving): Decision<MovesEvent> {
  const site = siteMeant(current, command.site) ?? onlySiteWith(current, line.id);
  if (site === undefined) return refuse('which-place', line.name);
  const there = at(current.ledger, line.id, inSite(site));
  const n = command.n ?? there;
  if (n === 0 || there < n) return refuse('not-enough', line.name);
  const pieces = filledIn(line, { n, site, at: at_ }, command, by);
  const left = [...(current.left[line.id] ?? []), pieces];
  const postings = transfer(line.id, inSite(site), 'stays', n);
  return accept<MovesEvent>({ type: 'explained', line: line.id, left, postings });
}

function onlySiteWith(current: Case, line: string): string | undefined {
  const sites = current.sheet.sites.filter((site) => at(current.ledger, line, inSite(site.id)) > 0);
  return sites.length === 1 ? sites[0]?.id : undefined;
}

function filledIn(
  line: Line,
  pieces: LeftPieces,
  command: Explain,
  by: readonly string[],
): LeftPieces {
  if (isExplained(line, pieces)) return pieces;
  const words = said(pieces, command);
  return line.stay.may === 'no' ? { ...words, decidedBy: by } : words;
}

function said(pieces: LeftPieces, command: Explain): LeftPieces {
  return {
    ...pieces,
    ...(isText(command.reason) ? { reason: command.reason } : {}),
    ...(isText(command.where) ? { where: command.where } : {}),
    ...(isText(command.lot) ? { lot: command.lot } : {}),
  };
}

/**
 * The surgeon says that a search showed none of what was thought to be inside.
 *
 * Refuses, first match wins: unknown-line, unknown-site, not-a-quantity, reason-missing, surgeon-missing,
 * earlier-operation, not-carried-in, not-enough.
 * Rules: L8.
 */
export function decideSearchedNone(current: Case, command: SearchedNone): Decision<MovesEvent> {
  const { line, n, reason } = command;
  const known = current.lines.get(line);
  if (!known) return refuse('unknown-line', line);
  const meant = siteMeant(current, command.site);
  const site = command.site === undefined ? (meant ?? onlySiteWith(current, line)) : meant;
  if (site === undefined) return refuse('unknown-site', command.site);
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (!isText(reason)) return refuse('reason-missing', known.name);
  const surgeon = personFrom(current.team, command.by ?? 'surgeon');
  if (!samePerson(surgeon, current.team.surgeon)) return refuse('surgeon-missing', known.name);
  if (isFromEarlierOperation(current, line)) return refuse('earlier-operation', known.name);
  const claimed = claimedOf(current, line);
  if (claimed === 0) return refuse('not-carried-in', known.name);
  if (claimed < n || at(current.ledger, line, inSite(site)) < n)
    return refuse('not-enough', known.name);
  const postings = transfer(line, inSite(site), 'missing', n);
  return accept<MovesEvent>({ type: 'noneFound', line, n, reason, surgeon, postings });
}

/** Pieces that were only thought to be inside and not yet searched for; what was put in here is counted out. */
function claimedOf(current: Case, line: string): number {
  const sum = (marks: readonly { readonly line: string; readonly n: number }[]): number =>
    marks.reduce((pieces, mark) => (mark.line === line ? pieces + mark.n : pieces), 0);
  return sum(current.carried) - sum(current.missing.filter((one) => one.why === 'searched-none'));
}

function isFromEarlierOperation(current: Case, line: string): boolean {
  return current.carried.some((one) => one.line === line && one.from === 'earlier-operation');
}
