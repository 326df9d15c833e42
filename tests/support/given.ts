import { expect } from 'vitest';
import type { Asked } from '#drill/asked.ts';
import { commandsOf } from '#drill/commandsOf.ts';
import { decide } from '#engine/case/decide.ts';
import type { CaseEvent, Command, EventBody, OpenCase } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { gateState, holdsOf } from '#engine/closures/holdsOf.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import type { Decision } from '#engine/decision.ts';
import { at } from '#engine/ledger.ts';
import { placeFrom } from '#engine/places.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { MomentId, Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import type { WarningCode } from '#engine/warnings.ts';
import { storySheet } from './storySheet.ts';

/** One thing that was done: a command, a whole count or checkpoint, or a wait. */
export type Done = Command | Asked;

export const opening: OpenCase = {
  type: 'open',
  caseId: 'story',
  sheet: storySheet,
  patient: { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31', weightKg: 70 },
  team: { scrub: 'Testa', circulator: 'Prueba', surgeon: 'Ensayo', anaesthetist: 'Probe' },
};

/** A count in which all is as usual, but for the lines said. */
export const count = (
  moment: MomentId,
  found: Extract<Asked, { readonly kind: 'count' }>['found'] = {},
): Asked => ({
  kind: 'count',
  moment,
  found,
  scrub: undefined,
  circulator: undefined,
  by: undefined,
});

type Values = Readonly<Record<string, string | number>>;

const answersFrom = (values: Values) =>
  Object.fromEntries(
    Object.entries(values).map(([id, value]) => [id, { kind: 'value', value } as const]),
  );

/** A checkpoint in which all is answered as usual, but for the steps said. */
export const checkpoint = (id: string, values: Values = {}): Asked => ({
  kind: 'checkpoint',
  id,
  answers: answersFrom(values),
  leader: undefined,
  present: undefined,
});

export const look = (closure: string, values: Values = {}): Asked => ({
  kind: 'look',
  closure,
  answers: answersFrom(values),
});

/** Lines recounted as the record has them, or as said. */
export const recount = (lines: Extract<Asked, { readonly kind: 'recount' }>['lines']): Asked => ({
  kind: 'recount',
  lines,
  by: undefined,
});

export const wait = (minutes: number): Asked => ({ kind: 'wait', minutes });

/** Everything up to the incision, without trouble. */
export const incised: readonly Done[] = [
  checkpoint('sign-in'),
  { type: 'dose', agent: 'cefuroxime' },
  count('first'),
  checkpoint('time-out'),
  { type: 'incision' },
];

/** The planned specimen, whole, in its pot, labelled, read back and gone. */
export const specimenGone: readonly Done[] = [
  { type: 'specimen', id: 'lump', step: 'taken', pieces: 1, whole: true },
  { type: 'specimen', id: 'lump', step: 'contained', pot: '1' },
  { type: 'specimen', id: 'lump', step: 'labelled', label: 'usual' },
  { type: 'specimen', id: 'lump', step: 'readBack', by: 'scrub' },
  { type: 'specimen', id: 'lump', step: 'handedOver', to: 'porter' },
];

/** From a clear table to signed out, every closure made. */
export const closedUp: readonly Done[] = [
  count('cavity'),
  { type: 'close', closure: 'uterus' },
  look('abdomen'),
  count('closing'),
  { type: 'close', closure: 'abdomen' },
  count('final'),
  { type: 'close', closure: 'skin' },
];

type World = { readonly current: Case; readonly now: string; readonly made: number };

const start = '2026-01-05T08:00:00+00:00';

const later = (now: string, minutes: number): string =>
  new Date(Date.parse(now) + minutes * 60_000).toISOString().replace('.000Z', '+00:00');

/** A case on the story's sheet in which this was done. What is refused is a mistake of the story. */
export const given = (...done: readonly Done[]): Story => givenOn(storySheet, ...done);

export function givenOn(sheet: Sheet, ...done: readonly Done[]): Story {
  return givenOpened({ ...opening, sheet }, ...done);
}

export function givenOpened(open: OpenCase, ...done: readonly Done[]): Story {
  const decision = openCase(open, { at: start, by: open.team.circulator, id: 'open' });
  if (!decision.ok) throw new Error(`the case was not opened: ${decision.refusal.code}`);
  const current = decision.events.reduce<Case | undefined>(evolve, undefined);
  if (!current) throw new Error('the case was not opened');
  return storyOf(done.reduce(after, { current, now: start, made: 0 }));
}

function after(world: World, done: Done): World {
  const { decisions, ...next } = played(world, done);
  const refused = decisions.find((decision) => !decision.ok);
  if (refused && !refused.ok)
    throw new Error(`${JSON.stringify(done)} was refused: ${refused.refusal.code}`);
  return next;
}

/** Plays a command, or all commands of a count or a checkpoint, until one is refused. */
function played(world: World, done: Done) {
  let { current, made } = world;
  const now = isAsked(done) && done.kind === 'wait' ? later(world.now, done.minutes) : world.now;
  const asked: Asked = isAsked(done) ? done : { kind: 'command', command: done };
  const commands = commandsOf(asked, current, now);
  const decisions: Decision<CaseEvent>[] = [];
  for (let next = commands.next(current); !next.done; next = commands.next(current)) {
    made += 1;
    const by = current.team.circulator;
    const decision = decide(current, next.value, { at: now, by, id: `c${made}` });
    decisions.push(decision);
    if (!decision.ok) break;
    current = decision.events.reduce(evolve, current);
  }
  return { current, now, made, decisions };
}

const isAsked = (done: Done): done is Asked => 'kind' in done && !('type' in done);

export type Story = {
  readonly current: Case;
  /** What a further command is answered with. */
  readonly when: (done: Done) => Answered;
  /** The balance of a line at a place. */
  readonly balance: (line: string, place: string) => number | undefined;
  /** The hold codes of a gate, each once, in the order of the alphabet. */
  readonly holds: (gate: string) => readonly string[];
  /** The holds of a gate with what each is about: `count-due closing`. */
  readonly about: (gate: string) => readonly string[];
  readonly state: (gate: string) => string;
  readonly verdict: () => string;
};

export type Answered = {
  /** Accepted with exactly these events, of which each says at least this. */
  readonly records: (...events: readonly Partial<EventBody>[]) => Story;
  readonly accepted: () => Story;
  /** Accepted with these events, which are given back whole. */
  readonly events: () => readonly CaseEvent[];
  /** Accepted, and this is said beside it. */
  readonly warned: (...codes: readonly WarningCode[]) => Story;
  /** Accepted, and all that is said beside it. */
  readonly said: () => readonly WarningCode[];
  /** Refused, and where it is said: with this detail. */
  readonly refused: (code: RefusalCode, detail?: string) => void;
};

function storyOf(world: World): Story {
  const { current } = world;
  return {
    current,
    when: (done) => answered(world, done),
    balance: (line, words) => {
      const place = placeFrom(words, current.sheet.sites);
      return place && at(current.ledger, line, place);
    },
    holds: (gate) => [...new Set(holdsOf(current, gate).map((hold) => hold.code))].sort(),
    about: (gate) => holdsOf(current, gate).map((hold) => `${hold.code} ${hold.about}`),
    state: (gate) => gateState(current, gate),
    verdict: () => verdictOf(current),
  };
}

function answered(world: World, done: Done): Answered {
  const { decisions, ...next } = played(world, done);
  const refusal = decisions.flatMap((decision) => (decision.ok ? [] : [decision.refusal]))[0];
  const events = decisions.flatMap((decision) => (decision.ok ? decision.events : []));
  const said = decisions.flatMap((decision) => (decision.ok ? decision.warnings : []));
  const accepted = () => {
    expect(refusal?.code).toBeUndefined();
    return storyOf(next);
  };
  return {
    accepted,
    events: () => {
      expect(refusal?.code).toBeUndefined();
      return events;
    },
    records: (...expected) => {
      expect(refusal?.code).toBeUndefined();
      expect(events).toHaveLength(expected.length);
      expect(events).toMatchObject(expected);
      return storyOf(next);
    },
    warned: (...codes) => {
      expect(refusal?.code).toBeUndefined();
      expect(said.map((warning) => warning.code)).toEqual(expect.arrayContaining([...codes]));
      return storyOf(next);
    },
    said: () => {
      expect(refusal?.code).toBeUndefined();
      return said.map((warning) => warning.code);
    },
    refused: (code, detail) => {
      expect(refusal?.code).toBe(code);
      if (detail !== undefined) expect(refusal?.detail).toBe(detail);
      expect(refusal?.sentence).not.toBe('');
      expect(refusal?.whatToDo).not.toBe('');
    },
  };
}
