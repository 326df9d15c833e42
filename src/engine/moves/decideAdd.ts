import { isSiteClosed } from '../applies.ts';
import { accept, type Context, type Decision, refuse, warned } from '../decision.ts';
import type { Posting } from '../ledger.ts';
import { transfer } from '../ledger.ts';
import { peopleFrom } from '../people.ts';
import { inSite } from '../places.ts';
import { isQuantity, isText } from '../quantities.ts';
import { carriedFrom, type Line } from '../sheet.ts';
import type { Case } from '../state.ts';
import type { Add, CarryIn, MovesEvent } from './events.ts';
import { siteMeant } from './siteMeant.ts';

/** Packs in one entry whose codes are kept. */
const scannedMax = 20;

/**
 * Opens something onto the field.
 *
 * Units: pieces; `packs` lists what each pack held. A pack that differs from its size is set aside whole.
 * Refuses, first match wins: malformed (detail: scanned), unknown-line, not-a-quantity, name-missing, packs-needed,
 * baseline-open, discrepancy-over.
 * Says beside it: pack-set-aside, packs-in-one, one-name, no-strand.
 * Rules: L3, L4, D5, D6.
 */
export function decideAdd(current: Case, command: Add, context: Context): Decision<MovesEvent> {
  const { scanned } = command;
  if (scanned && !(scanned.length > 0 && scanned.length <= scannedMax && scanned.every(isText)))
    return refuse('malformed', 'scanned');
  const line = current.lines.get(command.line);
  if (!line) return refuse('unknown-line', command.line);
  if (command.packs === undefined && !isQuantity(command.n)) return refuse('not-a-quantity', 'n');
  const packs = command.packs ?? packsOf(line, command.n ?? 0);
  if (packs && (packs.length === 0 || !packs.every(isQuantity)))
    return refuse('not-a-quantity', 'packs');
  const seenBy = peopleFrom(current.team, command.by ?? ['scrub', 'circulator']);
  if (seenBy.length === 0) return refuse('name-missing', context.by);
  if (packs === undefined) return refuse('packs-needed', line.name);
  if (current.counts.first === 'open') return refuse('baseline-open');
  if (isOver(current, line)) return refuse('discrepancy-over', line.name);

  const sound = packs.filter((pieces) => line.pack === undefined || pieces === line.pack);
  const setAside = packs.filter((pieces) => line.pack !== undefined && pieces !== line.pack);
  const n = sound.reduce((sum, pieces) => sum + pieces, 0);
  if (n > 0 && !isQuantity(n)) return refuse('not-a-quantity', 'packs');
  const postings = [...supplied(line.id, n), ...broughtAlong(line, sound.length, n)];
  const decision = accept<MovesEvent>({
    type: 'added',
    line: line.id,
    n,
    setAside,
    seenBy,
    postings,
    ...(scanned === undefined ? {} : { scanned }),
  });
  const isInOne = command.packs === undefined && packs.length > 1;
  return warned(
    decision,
    ...(setAside.length > 0 ? (['pack-set-aside'] as const) : []),
    ...(isInOne ? (['packs-in-one'] as const) : []),
    ...(seenBy.length < 2 ? (['one-name'] as const) : []),
    ...(isEarlyDressing(current, line) ? (['no-strand'] as const) : []),
  );
}

/** Said only of an open discrepancy: while a line waits for its recounts, nobody is told which way it differs. */
function isOver(current: Case, line: Line): boolean {
  const open = current.differing[line.id];
  return open?.stage === 'discrepancy' && open.difference > open.amended;
}

/** A swab that no film shows is for the dressing: mixed with the others it can be lost among them. */
function isEarlyDressing(current: Case, line: Line): boolean {
  return line.class === 'swab' && line.film === 'no' && current.counts.done.final === undefined;
}

/** A line without packs is one pack of what was said; a whole number of packs is that many packs. */
function packsOf(line: Line, n: number): readonly number[] | undefined {
  if (line.pack === undefined) return [n];
  if (n % line.pack !== 0) return undefined;
  return new Array<number>(n / line.pack).fill(line.pack);
}

function broughtAlong(line: Line, packs: number, n: number): readonly Posting[] {
  const times = line.pack === undefined ? n : packs;
  return line.brings.flatMap((with_) => supplied(with_.line, with_.n * times));
}

const supplied = (line: string, n: number): readonly Posting[] =>
  n === 0 ? [] : transfer(line, 'supply', 'table', n);

/**
 * Something starts in the patient: seen on imaging, left by an earlier operation, seen to spill.
 *
 * Refuses, first match wins: malformed, unknown-line, unknown-site, not-a-quantity, site-closed.
 * Rules: L8.
 */
export function decideCarriedIn(current: Case, command: CarryIn): Decision<MovesEvent> {
  const { line, n, from } = command;
  if (!carriedFrom.includes(from)) return refuse('malformed', 'from');
  if (!current.lines.has(line)) return refuse('unknown-line', line);
  const site = siteMeant(current, command.site);
  if (site === undefined) return refuse('unknown-site', command.site);
  if (!isQuantity(n)) return refuse('not-a-quantity', 'n');
  if (isSiteClosed(current, site)) return refuse('site-closed', site);
  const postings = transfer(line, 'supply', inSite(site), n);
  return accept<MovesEvent>({ type: 'carriedIn', line, n, site, from, postings });
}
