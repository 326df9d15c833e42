import { closuresOf, gatesOf, listedOf, signOut } from '../applies.ts';
import { type Accepted, accept, type Decision, refuse, warned } from '../decision.ts';
import { accountedOf, insideOf, type Posting, rowOf, transfer } from '../ledger.ts';
import { peopleFrom } from '../people.ts';
import type { MomentId } from '../sheet.ts';
import type { Case, Found, RunningCount } from '../state.ts';
import type { Agree, CountAgreed, CountsEvent, Outcome } from './events.ts';
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
  if (by.length < 2) return refuse('two-people');
  if (!running) return refuse('no-count');
  const open = running.lines.filter((line) => running.found[line] === undefined);
  if (open.length > 0) return refuse('lines-open', nameOf(current, open[0]));
  if (running.moment === 'first') return firstAgreed(current, running, by);
  if (running.moment === 'added') return accept<CountsEvent>(addedAgreed(current, running, by));
  const outcomes = outcomesOf(current, running.found);
  return accept<CountsEvent>({
    ...bare(current, running.moment, by),
    outcomes,
    postings: outcomes.flatMap((outcome) => followTheEyes(current, outcome)),
  });
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

export const differenceOf = (outcome: Outcome): number =>
  outcome.found.field + outcome.found.off - outcome.expected;

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
  const seen = Object.entries(running.found).map(([id, found]) => {
    const line = current.lines.get(id);
    const listed = line ? listedOf(current, line) : 0;
    const packs = line ? packsSeen(line, listed, found) : { sound: 0, setAside: [] };
    return { id, listed, found, ...packs };
  });
  const agreed: CountAgreed = {
    ...bare(current, 'first', by),
    outcomes: seen.map(({ id, found, sound }) => ({ line: id, found, expected: sound })),
    postings: seen.flatMap(({ id, sound, found }) =>
      established(id, sound, Math.min(found.off, sound)),
    ),
    findings: seen
      .filter(({ listed, found }) => found.field + found.off !== listed)
      .map(({ id, listed, found }) => ({ line: id, listed, seen: found.field + found.off })),
    setAside: seen.flatMap(({ id, setAside }) => setAside.map((pieces) => ({ line: id, pieces }))),
  };
  const decision = accept<CountsEvent>(agreed);
  if (agreed.setAside.length > 0) return warned(decision, 'pack-set-aside');
  return agreed.findings.length > 0 ? warned(decision, 'tray-differs') : decision;
}

function established(line: string, pieces: number, off: number): readonly Posting[] {
  const onTable = pieces - off;
  return [
    ...(onTable > 0 ? transfer(line, 'supply', 'table', onTable) : []),
    ...(off > 0 ? transfer(line, 'supply', 'off', off) : []),
  ];
}

/** A tray opened at a conversion is counted in: its baseline becomes what was seen. */
function addedAgreed(current: Case, running: RunningCount, by: readonly string[]): CountAgreed {
  const outcomes = outcomesOf(current, running.found);
  const findings = outcomes
    .filter((outcome) => differenceOf(outcome) !== 0)
    .map(({ line, expected, found }) => ({
      line,
      listed: expected,
      seen: found.field + found.off,
    }));
  return {
    ...bare(current, 'added', by),
    outcomes: outcomes.map((outcome) => ({
      ...outcome,
      expected: outcome.found.field + outcome.found.off,
    })),
    postings: outcomes.flatMap((outcome) => rebased(current, outcome)),
    findings,
  };
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

function bare(current: Case, moment: MomentId, agreedBy: readonly string[]): CountAgreed {
  const gate = gateOf(current, moment);
  return {
    type: 'countAgreed',
    moment,
    agreedBy,
    outcomes: [],
    postings: [],
    gate,
    findings: [],
    setAside: [],
  };
}

/** The gate that a line that differs holds first: the next one that asks for this count, or simply the next. */
export function gateOf(current: Case, moment: MomentId): string {
  const open = closuresOf(current).filter((closure) => !current.closures[closure.id]?.closedAt);
  const asking = open.find((closure) => closure.count === moment) ?? open[0];
  return asking?.id ?? gatesOf(current).at(-1) ?? signOut;
}
