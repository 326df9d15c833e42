/**
 * A second model of a case, as naive as possible: it keeps the list of what was accepted and recounts
 * everything from that list, piece by piece, each time it is asked. It was written from the design, not from
 * the engine, and takes from the engine only its types and the order of its refusals.
 */
import type { CaseEvent, Command, Correct, OpenCase } from '#engine/case/events.ts';
import type { HoldCode } from '#engine/closures/holds.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import { apply, explainable, nameFragments, outcomesOf, takenFrom } from './naiveApply.ts';
import { gateStateOf, holdCodes, type Verdict, verdictOf } from './naiveHolds.ts';
import { isJudged, refusalOf } from './naiveRefusals.ts';
import {
  balanceOf,
  everyPlace,
  type Fact,
  freshWorld,
  gatesOf,
  isInside,
  lengthsDiffer,
  placeOf,
  type World,
} from './naiveWorld.ts';

/** A case as the model keeps it: how it was opened, and what was accepted since. */
export type Recording = { readonly opening: OpenCase; readonly facts: readonly Fact[] };

/** Recounts the whole case. Entries that were taken back never happened; that they were taken back did. */
export function recount({ opening, facts }: Recording, without?: number): World {
  const gone = new Set(facts.map((fact) => fact.corrects?.entry));
  const world = freshWorld(opening);
  for (const fact of facts) {
    if (gone.has(fact.entry) || fact.entry === without) {
      world.entry = fact.entry;
      nameFragments(world, fact);
    } else apply(world, fact);
  }
  return world;
}

/** Entries that are not taken back but reopened: closures, agreed counts, finished checkpoints. */
const isFinal = (fact: Fact): boolean =>
  ['close', 'agree', 'recount', 'finishCheckpoint', 'finish'].includes(fact.command.type) ||
  // These have an opposite of their own: another entry that says so.
  ['beginCount', 'enter', 'abandon', 'relief', 'waive', 'reopen'].includes(fact.command.type) ||
  ['incision', 'declare', 'amend', 'deferXray', 'beginCheckpoint'].includes(fact.command.type);

/** The entry that a correction means. */
function meant(record: Recording, command: Correct): Fact | undefined {
  const gone = new Set(record.facts.map((fact) => fact.corrects?.entry));
  if (command.entry !== undefined) {
    return record.facts.find((fact) => fact.entry === command.entry);
  }
  return record.facts.findLast((fact) => fact.command.type !== 'correct' && !gone.has(fact.entry));
}

/**
 * The parts of the record that an entry changes, beside where pieces are. Two entries that change the same
 * part are taken back in the order of the newest first.
 */
function partsOf(world: World, { command, outcomes }: Fact): readonly string[] {
  switch (command.type) {
    case 'move': {
      const places = [placeOf(world.sheet, command.from), placeOf(world.sheet, command.to)];
      const stays = places.includes('stays') ? [`stays ${command.line}`] : [];
      return places.includes('away') ? [...stays, 'away'] : stays;
    }
    case 'turn': {
      const turn = world.lines.get(command.line)?.turns.find((one) => one.id === command.turn);
      const given = turn?.gives.filter((one) => one.place === 'stays') ?? [];
      return given.map((one) => `stays ${one.line}`);
    }
    case 'explain': {
      const { about } = explainable(world, command.line, command.site);
      const isAboutLengths = world.fragments.some(
        (one) => one.line === command.line && lengthsDiffer(one) && command.reason,
      );
      return [about.length === 0 && isAboutLengths ? 'fragments' : `stays ${command.line}`];
    }
    case 'break':
      return ['fragments'];
    case 'carriedIn':
      return ['carried'];
    case 'searchedNone':
      return ['missing'];
    case 'declare':
      return ['missing', `trouble ${command.line}`];
    case 'discrepancy': {
      const isMissing = command.from === 'missing' || !world.troubles.has(command.line);
      if (command.step === 'found' && isMissing) return ['missing', `trouble ${command.line}`];
      const isFilm = command.step === 'xray' && !command.skip;
      return isFilm ? ['films', `trouble ${command.line}`] : [`trouble ${command.line}`];
    }
    case 'xray':
      return ['films'];
    case 'amend':
      return [`trouble ${command.line}`];
    case 'agree':
    case 'recount':
      return (outcomes ?? [])
        .filter(({ line }) => world.troubles.has(line))
        .map(({ line }) => `trouble ${line}`);
    case 'look':
      return [`look ${command.closure}`];
    case 'specimen':
      return [`specimen ${command.id}`];
    case 'handover':
      return [`handover ${command.line}`];
    case 'answer':
      return [`checkpoint ${command.checkpoint}`];
    case 'finishCheckpoint':
      return [`checkpoint ${command.id}`];
    default:
      return [];
  }
}

/** What people saw at a count they saw; it is stale after a correction, and does not stand in its way. */
const isCounting = (command: Command): boolean =>
  ['beginCount', 'enter', 'agree', 'abandon', 'recount'].includes(command.type);

/** The first later entry that could not have been made without this one, or that changed the same part. */
function dependant(record: Recording, entry: number): number | undefined {
  const gone = new Set(record.facts.map((fact) => fact.corrects?.entry));
  const standing = record.facts.filter((fact) => !gone.has(fact.entry));
  const target = standing.find((fact) => fact.entry === entry);
  const real = freshWorld(record.opening);
  const without = freshWorld(record.opening);
  const now = recount(record);
  const parts: string[] = [];
  for (const fact of standing) {
    if (fact === target) parts.push(...partsOf(real, fact));
    else if (fact.entry > entry && fact.command.type !== 'correct') {
      if (partsOf(real, fact).some((part) => parts.includes(part))) return fact.entry;
      const { command } = fact;
      const isUndone = command.type === 'close' && !now.closed.has(command.closure);
      const isFree = isUndone || isCounting(command) || !isJudged(command);
      const code = isFree ? undefined : refusalOf(without, command);
      // A line of fragments keeps its name, although there are none.
      if (code && code !== 'unknown-line') return fact.entry;
    }
    apply(real, fact);
    try {
      if (fact !== target) apply(without, fact);
    } catch {
      return fact.entry;
    }
  }
  return undefined;
}

function correctionRefused(record: Recording, command: Correct): RefusalCode | undefined {
  if (recount(record).ended) return 'case-finished';
  const target = meant(record, command);
  if (command.entry === undefined && !target) return 'nothing-to-correct';
  if (!target) return 'unknown-entry';
  if (target.command.type === 'correct' || isFinal(target)) return 'not-taken-back';
  if (record.facts.some((fact) => fact.corrects?.entry === target.entry)) {
    return 'already-corrected';
  }
  return dependant(record, target.entry) === undefined ? undefined : 'entry-depended-on';
}

/** Why the model refuses a command; nothing where it accepts it. */
export const judge = (
  record: Recording,
  world: World,
  command: Command,
): RefusalCode | undefined =>
  command.type === 'correct' ? correctionRefused(record, command) : refusalOf(world, command);

/**
 * The record with one more accepted entry. From the program's events it takes only names: the number of the
 * entry, the lines that a count asks for, the name of a line of fragments.
 */
export function recorded(
  before: Recording,
  world: World,
  command: Command,
  events: readonly CaseEvent[],
): Recording {
  const entry = world.entry + 1;
  const fact: Fact = { entry, command, by: events[0]?.by ?? '', ...namesIn(events) };
  return { ...before, facts: [...before.facts, { ...fact, ...seen(before, world, command) }] };
}

function namesIn(events: readonly CaseEvent[]): Pick<Fact, 'countLines' | 'fragment'> {
  for (const event of events) {
    if (event.type === 'countBegun') return { countLines: event.lines };
    if (event.type === 'broken') return { fragment: event.fragment.id };
  }
  return {};
}

/** All that lies inside, in words. */
const everyInside = (world: World): string =>
  [...world.lines.keys()]
    .flatMap((line) =>
      everyPlace(world.sheet)
        .filter(isInside)
        .map((place) => balanceOf(world, line, place))
        .map((n, site) => (n > 0 ? `${line} ${site} ${n}` : '')),
    )
    .filter(Boolean)
    .join();

/** What is a fact from now on: what a count gave, what a correction took back. */
function seen(
  before: Recording,
  world: World,
  command: Command,
): Pick<Fact, 'outcomes' | 'corrects' | 'n' | 'from'> {
  const from = takenFrom(world, command);
  if (from !== undefined) return { from };
  if (command.type === 'explain') {
    return { n: command.n ?? explainable(world, command.line, command.site).about.length };
  }
  if (command.type === 'agree' && world.running) {
    return { outcomes: outcomesOf(world, world.running.found) };
  }
  if (command.type === 'recount') {
    const lines = Object.entries(command.lines).map(
      ([line, { field, off }]) => [line, { field: field ?? 0, off: off ?? 0 }] as const,
    );
    return { outcomes: outcomesOf(world, lines) };
  }
  if (command.type !== 'correct') return {};
  const target = meant(before, command);
  if (!target) return {};
  const until = { ...before, facts: before.facts.filter((fact) => fact.entry <= target.entry) };
  const after = recount(until);
  const { entry } = target;
  const insides = [recount(until, entry), after].map((one) => everyInside(one));
  const corrects = {
    entry,
    aged: after.aged === entry,
    inside: after.insideChanged === entry || insides[0] !== insides[1],
  };
  return { corrects };
}

/** Every balance of every line, by line and place; zeros are left out. */
export function balancesOf(
  world: World,
): Readonly<Record<string, Readonly<Record<string, number>>>> {
  const all: Record<string, Record<string, number>> = {};
  for (const line of world.lines.keys()) {
    const row: Record<string, number> = {};
    for (const place of everyPlace(world.sheet)) {
      const balance = balanceOf(world, line, place);
      if (balance !== 0) row[place] = balance;
    }
    if (Object.keys(row).length > 0) all[line] = row;
  }
  return all;
}

/** All that the model says of a case: balances, hold codes and state of each gate, verdict. */
export type Answers = {
  readonly balances: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly holds: Readonly<Record<string, readonly HoldCode[]>>;
  readonly gates: Readonly<Record<string, 'done' | 'held' | 'clear'>>;
  readonly verdict: Verdict;
};

export function answersOf(world: World): Answers {
  const open = gatesOf(world).filter((gate) => !world.closed.has(gate));
  return {
    balances: balancesOf(world),
    holds: Object.fromEntries(open.map((gate) => [gate, holdCodes(world, gate)])),
    gates: Object.fromEntries(gatesOf(world).map((gate) => [gate, gateStateOf(world, gate)])),
    verdict: verdictOf(world),
  };
}
