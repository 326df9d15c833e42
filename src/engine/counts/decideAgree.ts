import { listedOf } from '../applies.ts';
import type { Found, RunningCount } from '../countState.ts';
import { type Accepted, accept, type Decision, refuse, warned } from '../decision.ts';
import { accountedOf, insideOf, type Posting, rowOf, transfer } from '../ledger.ts';
import { peopleFrom, samePerson } from '../people.ts';
import type { Line, MomentId } from '../sheet.ts';
import type { Case } from '../state.ts';
import type { WarningCode } from '../warnings.ts';
import { differenceOf } from './differenceOf.ts';
import type { Agree, CountAgreed, CountsEvent, Outcome } from './events.ts';
import { foundIn } from './foundIn.ts';
import { packsSeen } from './packsSeen.ts';

/**
 * Both people agree what they saw; only now it is compared with the ledger.
 *
 * Refuses, first match wins: two-people, no-count, lines-open.
 * Rules: C4, C5, C6, C7.
 */
export function decideAgree(current: Case, command: Agree): Decision<CountsEvent> {
  const { running } = current.counts;
  const counting = running ? [running.scrub, running.circulator] : ['scrub', 'circulator'];
  const by = peopleFrom(current.team, command.by ?? counting);
  if (by.length < 2 || !isBoth(by, running)) return refuse('two-people');
  if (!running) return refuse('no-count');
  const found = foundIn(running);
  const open = running.lines.filter((line) => found[line] === undefined);
  if (open.length > 0) return refuse('lines-open', nameOf(current, open[0]));
  if (running.moment === 'first') return firstAgreed(current, running, by);
  if (running.moment === 'added') return accept<CountsEvent>(addedAgreed(current, running, by));
  const outcomes = outcomesOf(current, found);
  return accept<CountsEvent>({
    ...bare(running.moment, by),
    outcomes,
    postings: outcomes.flatMap((outcome) => followTheEyes(current, outcome)),
  });
}

/** Whether the two who count are among those who agree. */
function isBoth(by: readonly string[], running: RunningCount | undefined): boolean {
  const counting = running ? [running.scrub, running.circulator] : [];
  return counting.every((person) => by.some((one) => samePerson(one, person)));
}

const nameOf = (current: Case, line: string | undefined): string =>
  line === undefined ? '' : (current.lines.get(line)?.name ?? line);

export function outcomesOf(
  current: Case,
  found: Readonly<Record<string, Found>>,
): readonly Outcome[] {
  return Object.entries(found).map(([line, seen]) => ({
    line,
    found: seen,
    expected: accountedOf(current.ledger, line),
  }));
}

/**
 * The postings by which the split between table and off follows what was seen.
 *
 * What the ledger holds in the patient is never changed by a count. Rules: C7.
 */
export function followTheEyes(current: Case, outcome: Outcome): readonly Posting[] {
  const { line, found } = outcome;
  if (differenceOf(outcome) !== 0) return [];
  const table = found.field - insideOf(current.ledger, line);
  const shift = table - rowOf(current.ledger, line).table;
  if (table < 0 || shift === 0) return [];
  return shift > 0 ? transfer(line, 'off', 'table', shift) : transfer(line, 'table', 'off', -shift);
}

/** The first count establishes the ledger from what the two people saw. */
function firstAgreed(
  current: Case,
  running: RunningCount,
  by: readonly string[],
): Accepted<CountsEvent> {
  const seen = Object.entries(foundIn(running)).map(([id, found]) => {
    const line = current.lines.get(id);
    const listed = line ? listedOf(current, line) : 0;
    const packs = line ? packsSeen(line, listed, found) : { sound: 0, setAside: [] };
    return { id, listed, found, ...packs };
  });
  const agreed: CountAgreed = {
    ...bare('first', by),
    outcomes: seen.map(({ id, found, sound }) => ({ line: id, found, expected: sound })),
    postings: seen.flatMap(({ id, sound, found }) =>
      established(id, sound, Math.min(found.off, sound)),
    ),
    findings: seen
      .filter(({ listed, found }) => found.field + found.off !== listed)
      .map(({ id, listed, found }) => ({ line: id, listed, seen: found.field + found.off })),
    setAside: seen.flatMap(({ id, setAside }) => setAside.map((pieces) => ({ line: id, pieces }))),
  };
  const arePacksInOne = seen.some(({ id, found }) => isInOne(current.lines.get(id), found));
  return warned(accept<CountsEvent>(agreed), ...saidOfFirst(agreed, arePacksInOne));
}

/** A set-aside pack is a difference from the tray list that says more. */
function saidOfFirst(agreed: CountAgreed, arePacksInOne: boolean): readonly WarningCode[] {
  const said: WarningCode[] = [];
  if (agreed.setAside.length > 0) said.push('pack-set-aside');
  else if (agreed.findings.length > 0) said.push('tray-differs');
  if (arePacksInOne) said.push('packs-in-one');
  return said;
}

/** Whether more than one pack was said as one number, as it can be copied from a label or a list. */
const isInOne = (line: Line | undefined, found: Found): boolean =>
  line?.pack !== undefined && found.packs === undefined && found.field + found.off > line.pack;

function established(line: string, pieces: number, off: number): readonly Posting[] {
  const onTable = pieces - off;
  return [
    ...(onTable > 0 ? transfer(line, 'supply', 'table', onTable) : []),
    ...(off > 0 ? transfer(line, 'supply', 'off', off) : []),
  ];
}

/** A tray opened at a conversion is counted in: its baseline becomes what was seen. */
function addedAgreed(current: Case, running: RunningCount, by: readonly string[]): CountAgreed {
  const outcomes = outcomesOf(current, foundIn(running)).map((one) => withUnseen(current, one));
  const findings = outcomes
    .filter((outcome) => differenceOf(outcome) !== 0)
    .map(({ line, expected, found }) => ({
      line,
      listed: expected,
      seen: found.field + found.off,
    }));
  return {
    ...bare('added', by),
    outcomes: outcomes.map((outcome) => ({
      ...outcome,
      expected: outcome.found.field + outcome.found.off,
    })),
    postings: outcomes.flatMap((outcome) => rebased(current, outcome)),
    findings,
  };
}

/** What the record has inside and nobody saw is no finding, where everything else is there. */
function withUnseen(current: Case, outcome: Outcome): Outcome {
  const inside = insideOf(current.ledger, outcome.line);
  if (differenceOf(outcome) !== -inside) return outcome;
  return { ...outcome, found: { ...outcome.found, field: outcome.found.field + inside } };
}

function rebased(current: Case, { line, found }: Outcome): readonly Posting[] {
  const row = rowOf(current.ledger, line);
  const table = Math.max(0, found.field - insideOf(current.ledger, line));
  const shifts: readonly Posting[] = [
    { line, place: 'table', by: table - row.table },
    { line, place: 'off', by: found.off - row.off },
    { line, place: 'supply', by: row.table + row.off - table - found.off },
  ];
  return shifts.filter((posting) => posting.by !== 0);
}

function bare(moment: MomentId, agreedBy: readonly string[]): CountAgreed {
  return {
    type: 'countAgreed',
    moment,
    agreedBy,
    outcomes: [],
    postings: [],
    findings: [],
    setAside: [],
  };
}
