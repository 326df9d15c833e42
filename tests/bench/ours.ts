/** The engine on the same workload: its ledger alone, its events, its decisions, and a whole tap. */

import { gatesOf } from '#engine/applies.ts';
import { decide } from '#engine/case/decide.ts';
import type { CaseEvent, Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import type { Context } from '#engine/decision.ts';
import { replay } from '#engine/history/replay.ts';
import { at, emptyLedger, type Ledger, post, transfer } from '#engine/ledger.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { closure, line, sheet } from '../simulator/sheets.ts';
import type { Contestant } from './others.ts';
import { lineIds, type Moves, namedMovesOf, placeNames, stockOf } from './workload.ts';

const sites = ['one', 'two', 'three', 'four'] as const;

const bench: Sheet = sheet('bench', {
  sites: sites.map((id) => ({ id, name: id, kind: 'cavity' })),
  lines: lineIds.map((id, index) => line(id, { opening: stockOf(index) })),
  checkpoints: [],
  closures: sites.map((id) => closure(id, [id], 'closing', { look: [] })),
});

const contextOf = (n: number): Context => ({
  at: '2026-01-05T08:00:00Z',
  by: 'Prueba',
  id: `entry ${n}`,
});

export function recorded(current: Case, command: Command, context: Context): Case {
  const decision = decide(current, command, context);
  if (!decision.ok) throw new Error(`${command.type}: ${decision.refusal.code}`);
  return decision.events.reduce<Case>(evolve, current);
}

/** A case after its incision, with everything counted on the table; and the events that made it. */
export function startedCase(): { readonly current: Case; readonly events: readonly CaseEvent[] } {
  const opening = openCase(
    {
      type: 'open',
      caseId: 'bench',
      sheet: bench,
      patient: { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31' },
      team: { scrub: 'Testa', circulator: 'Prueba', surgeon: 'Ensayo', anaesthetist: 'Probe' },
    },
    contextOf(-1),
  );
  if (!opening.ok) throw new Error(opening.refusal.code);
  const events: CaseEvent[] = [...opening.events];
  let current = opening.events.reduce<Case | undefined>(evolve, undefined);
  if (!current) throw new Error('not opened');
  const entries = lineIds.map(
    (id, index): Command => ({ type: 'enter', line: id, field: stockOf(index) }),
  );
  const start: readonly Command[] = [
    { type: 'beginCount', moment: 'first' },
    ...entries,
    { type: 'agree' },
    { type: 'incision' },
  ];
  for (const [index, command] of start.entries()) {
    const decision = decide(current, command, contextOf(-2 - index));
    if (!decision.ok) throw new Error(`${command.type}: ${decision.refusal.code}`);
    events.push(...decision.events);
    current = decision.events.reduce<Case>(evolve, current);
  }
  return { current, events };
}

const balancesOf = (ledger: Ledger): Int32Array =>
  Int32Array.from(lineIds.flatMap((id) => placeNames.map((place) => at(ledger, id, place))));

export const commandsOf = (moves: Moves): readonly Command[] =>
  namedMovesOf(moves).map((one) => ({ type: 'move', ...one }));

function eventsOf(current: Case, moves: Moves): readonly CaseEvent[] {
  let next = current;
  return commandsOf(moves).flatMap((command, index) => {
    const decision = decide(next, command, contextOf(index));
    if (!decision.ok) throw new Error(decision.refusal.code);
    next = decision.events.reduce<Case>(evolve, next);
    return decision.events;
  });
}

const ledgerAlone: Contestant = (moves) => {
  const entries = namedMovesOf(moves).map((one) => transfer(one.line, one.from, one.to, one.n));
  const stock = lineIds.flatMap((id, index) => transfer(id, 'supply', 'table', stockOf(index)));
  const started = post(emptyLedger(lineIds, sites), stock);
  return () => balancesOf(entries.reduce(post, started));
};

const wholeEvolve: Contestant = (moves) => {
  const { current } = startedCase();
  const events = eventsOf(current, moves);
  return () => balancesOf(events.reduce<Case>(evolve, current).ledger);
};

const wholeReplay: Contestant = (moves) => {
  const { current, events } = startedCase();
  const rows = [...events, ...eventsOf(current, moves)].map((event) => ({ events: [event] }));
  return () => {
    const replayed = replay(rows);
    if (!replayed.ok) throw new Error(replayed.sentence);
    return balancesOf(replayed.current.ledger);
  };
};

const decideAndEvolve: Contestant = (moves) => {
  const { current } = startedCase();
  const commands = commandsOf(moves);
  return () => {
    let next = current;
    for (const [index, command] of commands.entries()) {
      next = recorded(next, command, contextOf(index));
    }
    return balancesOf(next.ledger);
  };
};

export const ours: Readonly<Record<string, Contestant>> = {
  "ours: the ledger's posting alone": ledgerAlone,
  'ours: evolve, a new case each time': wholeEvolve,
  'ours: replay of a whole record': wholeReplay,
  'ours: decide and evolve': decideAndEvolve,
};

/**
 * One tap with so many entries before it: decide, evolve and the holds of every gate.
 *
 * Units: microseconds, one number a tap.
 */
export function tapTimes(moves: Moves, earlier: number): readonly number[] {
  let { current } = startedCase();
  const times: number[] = [];
  for (const [index, command] of commandsOf(moves).entries()) {
    const before = process.hrtime.bigint();
    current = recorded(current, command, contextOf(index));
    const holds = gatesOf(current).map((gate) => holdsOf(current, gate));
    const took = Number(process.hrtime.bigint() - before) / 1000;
    if (holds.length !== sites.length + 1) throw new Error('a gate is missing');
    if (index >= earlier) times.push(took);
  }
  return times;
}
