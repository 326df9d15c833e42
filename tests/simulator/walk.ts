/** One random case, played on the engine and on the naive model side by side. */
import { decide } from '#engine/case/decide.ts';
import type { CaseEvent, Command, OpenCase } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { gateState, holdsOf } from '#engine/closures/holdsOf.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import type { Context } from '#engine/decision.ts';
import { replay } from '#engine/history/replay.ts';
import { at } from '#engine/ledger.ts';
import { placeFrom } from '#engine/places.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { canonicalJson } from '#journal/canonical.ts';
import { commandsOf, type Throw } from './commands.ts';
import { type Answers, answersOf, judge, type Recording, recorded, recount } from './naiveModel.ts';
import { isJudged } from './naiveRefusals.ts';
import { everyPlace, gatesOf, type World } from './naiveWorld.ts';

/** What was different between engine and model, and all that was asked until then. */
export type Difference = {
  readonly what: string;
  readonly engine: string;
  readonly model: string;
  readonly commands: readonly Command[];
};

export type Walked = { readonly commands: number; readonly accepted: number };

const person = 'Prueba';
const clockStart = Date.parse('2026-01-05T08:00:00Z');

/** The clock of a random case: a minute between any two commands. */
export const contextOf = (n: number): Context => ({
  at: new Date(clockStart + n * 60_000).toISOString(),
  by: person,
  id: `c${n}`,
});

export const openingOf = (sheet: Sheet): OpenCase => ({
  type: 'open',
  caseId: 'case-1',
  sheet,
  patient: { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31', weightKg: 70 },
  team: { scrub: 'Testa', circulator: 'Prueba', surgeon: 'Ensayo', anaesthetist: 'Probe' },
});

/** The case as text, the same for equal cases: keys in order, maps as lists. */
export const dump = (current: Case): string =>
  JSON.stringify(current, (_key, value: unknown) => {
    if (value instanceof Map) return { map: [...value].sort() };
    if (value === null || typeof value !== 'object' || Array.isArray(value)) return value;
    return Object.fromEntries(
      Object.entries(value)
        .filter(([, one]) => one !== undefined)
        .sort(([one], [other]) => (one < other ? -1 : 1)),
    );
  });

/** Freezes everything that is not frozen yet. A part that is frozen was frozen whole. */
export function freeze(value: unknown): void {
  if (value === null || typeof value !== 'object' || Object.isFrozen(value)) return;
  Object.freeze(value);
  if (value instanceof Map) for (const one of value.values()) freeze(one);
  else for (const one of Object.values(value)) freeze(one);
}

/** What the engine says of a case, in the words of the naive model. */
export function engineSays(current: Case, world: World): Answers {
  const balances: Record<string, Record<string, number>> = {};
  for (const line of current.lines.keys()) {
    const row: Record<string, number> = {};
    for (const words of everyPlace(current.sheet)) {
      const place = placeFrom(words, current.sheet.sites);
      const balance = place ? at(current.ledger, line, place) : Number.NaN;
      if (balance !== 0) row[words] = balance;
    }
    if (Object.keys(row).length > 0) balances[line] = row;
  }
  const gates = gatesOf(world);
  const open = gates.filter((gate) => !world.closed.has(gate));
  return {
    balances,
    holds: Object.fromEntries(
      open.map((gate) => [
        gate,
        [...new Set(holdsOf(current, gate).map((hold) => hold.code))].sort(),
      ]),
    ),
    gates: Object.fromEntries(gates.map((gate) => [gate, gateState(current, gate)])),
    verdict: verdictOf(current),
  };
}

/** What must hold whatever was tapped: each line sums to zero, nothing is below zero but the contra accounts. */
export function broken(current: Case): string | undefined {
  for (const line of current.lines.keys()) {
    let sum = 0;
    for (const words of everyPlace(current.sheet)) {
      const place = placeFrom(words, current.sheet.sites);
      const balance = place ? at(current.ledger, line, place) : Number.NaN;
      if (balance < 0 && words !== 'supply' && words !== 'changed') {
        return `${line} is ${balance} at ${words}`;
      }
      if (words === 'supply' && balance > 0) return `${line} is ${balance} at supply`;
      sum += balance;
    }
    if (sum !== 0) return `${line} is out by ${sum}`;
  }
  return undefined;
}

export type Played = {
  current: Case;
  record: Recording;
  world: World;
  rows: { events: readonly CaseEvent[] }[];
  asked: Command[];
  accepted: number;
};

export function opened(sheet: Sheet): Played {
  const opening = openingOf(sheet);
  const decision = openCase(opening, contextOf(0));
  if (!decision.ok) throw new Error(`not opened: ${decision.refusal.code}`);
  const current = decision.events.reduce<Case | undefined>(evolve, undefined);
  if (!current) throw new Error('not opened');
  freeze(current);
  const record: Recording = { opening, facts: [] };
  const rows = [{ events: decision.events }];
  return { current, record, world: recount(record), rows, asked: [], accepted: 0 };
}

/** Asks one command of both. Answers what was different, or nothing. */
export function ask(played: Played, command: Command, thorough: boolean): Difference | undefined {
  const { current, record, world, asked } = played;
  asked.push(command);
  const differs = (what: string, engine: unknown, model: unknown): Difference => ({
    what,
    engine: JSON.stringify(engine),
    model: JSON.stringify(model),
    commands: asked.slice(),
  });
  const context = contextOf(asked.length);
  const before = thorough ? dump(current) : '';
  const decision = decide(current, command, context);
  if (thorough && dump(current) !== before) return differs('decide changed the case', '', '');
  const said = decision.ok ? undefined : decision.refusal.code;
  if (isJudged(command)) {
    const wanted = judge(record, world, command);
    if (said !== wanted) return differs(`refusal of ${command.type}`, said, wanted);
  }
  if (!decision.ok) return undefined;
  let next = current;
  for (const event of decision.events) {
    next = evolve(next, event);
    const wrong = broken(next);
    if (wrong) return differs('invariant', wrong, '');
    const written = canonicalJson(event);
    if (!written.ok) return differs('an event that cannot be written down', written.failure, '');
  }
  if (thorough && dump(current) !== before)
    return differs('evolve changed the case before', '', '');
  freeze(next);
  played.current = next;
  played.record = recorded(record, world, command, decision.events);
  played.world = recount(played.record);
  played.rows.push({ events: decision.events });
  played.accepted += 1;
  if (next.entry !== played.world.entry) return differs('entry', next.entry, played.world.entry);
  const again = decide(next, command, context);
  if (!again.ok || again.events.length > 0) return differs('the same id twice', again, 'nothing');
  return answersDiffer(played, differs);
}

function answersDiffer(
  { current, world }: Played,
  differs: (what: string, engine: unknown, model: unknown) => Difference,
): Difference | undefined {
  const engine = engineSays(current, world);
  const model = answersOf(world);
  for (const what of ['balances', 'gates', 'holds', 'verdict'] as const) {
    if (JSON.stringify(engine[what]) !== JSON.stringify(model[what])) {
      return differs(what, engine[what], model[what]);
    }
  }
  return undefined;
}

/** Plays a whole random case. Answers the first difference, or how much was asked. */
export function walk(
  sheet: Sheet,
  throws: readonly Throw[],
  thorough: boolean,
): Difference | Walked {
  const played = opened(sheet);
  for (const one of throws) {
    for (const command of commandsOf(one, () => played.world)) {
      const difference = ask(played, command, thorough);
      if (difference) return difference;
    }
  }
  const replayed = replay(played.rows);
  if (!replayed.ok || dump(replayed.current) !== dump(played.current)) {
    const was = replayed.ok ? dump(replayed.current) : replayed.sentence;
    return { what: 'replay', engine: was, model: dump(played.current), commands: played.asked };
  }
  return { commands: played.asked.length, accepted: played.accepted };
}
