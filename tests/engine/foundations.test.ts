import { expect, test } from 'vitest';
import { bloodLossLimitMl } from '#engine/applies.ts';
import { assert, Fault } from '#engine/assert.ts';
import { decide } from '#engine/case/decide.ts';
import type { CaseEvent, Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { decideCheckpoints } from '#engine/checkpoints/decide.ts';
import { evolveCheckpoints } from '#engine/checkpoints/evolve.ts';
import { decideClosures } from '#engine/closures/decide.ts';
import { evolveClosures } from '#engine/closures/evolve.ts';
import { refuse } from '#engine/decision.ts';
import { noPrevious } from '#engine/history/envelope.ts';
import { replay } from '#engine/history/replay.ts';
import { decideNotes } from '#engine/notes/decide.ts';
import { evolveNotes } from '#engine/notes/evolve.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import { peopleFrom, personFrom } from '#engine/people.ts';
import { isContra, type Place } from '#engine/places.ts';
import { daysSince, isInstant, isMeasure, isQuantity, isSeen, isText } from '#engine/quantities.ts';
import { isRecorded } from '#engine/recordedIds.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import { evolveSpecimens } from '#engine/specimens/evolve.ts';
import type { Case } from '#engine/state.ts';
import {
  checkpoint,
  closedUp,
  count,
  type Done,
  given,
  givenOn,
  incised,
  look,
  opening,
  specimenGone,
  wait,
} from '../support/given.ts';
import { step } from '../support/storySheet.ts';

/** What every area stands on: numbers and texts, people and places, ids, notes, and the road of a command. */

const at = '2026-01-05T08:00:00+00:00';
const context = { at, by: 'Prueba', id: 'last' };
const strange = (json: string) => JSON.parse(json);

test.each<readonly [unknown, boolean, boolean, boolean]>([
  [1, true, true, true],
  [0, false, true, true],
  [999, true, true, true],
  [1000, false, false, true],
  [99_999, false, false, true],
  [100_000, false, false, false],
  [-1, false, false, false],
  [1.5, false, false, true],
  ['1', false, false, false],
  [null, false, false, false],
  [[1], false, false, false],
  [Number.NaN, false, false, false],
  [Number.POSITIVE_INFINITY, false, false, false],
])(
  '[L2] %s is a quantity (%s), can be seen (%s), is a measure (%s)',
  (value, quantity, seen, measure) => {
    expect([isQuantity(value), isSeen(value), isMeasure(value)]).toEqual([quantity, seen, measure]);
  },
);

test.each<readonly [string, unknown, boolean]>([
  ['a word', 'x', true],
  ['nothing', '', false],
  ['spaces', '   ', false],
  ['a number', 5, false],
  ['500 letters', 'x'.repeat(500), true],
  ['501 letters', 'x'.repeat(501), false],
])('[X10] %s is a text of an entry: %s', (_, value, isSo) => {
  expect(isText(value)).toBe(isSo);
});

test.each<readonly [unknown, boolean]>([
  ['2026-01-05T08:00Z', true],
  ['2026-01-05T08:00:01Z', true],
  ['2026-01-05T08:00:01.5Z', true],
  ['2026-01-05T08:00:01.123+01:00', true],
  ['2026-01-05T08:00:00-05:00', true],
  ['2026-01-05T08:00:00', false],
  ['2026-01-05', false],
  ['2026-13-05T08:00:00Z', false],
  ['2026-01-05T25:00:00Z', false],
  ['2026-01-05T08:00:01.1234Z', false],
  ['2026-01-05T08:00:01.aZ', false],
  ['at 2026-01-05T08:00:00Z', false],
  [' 2026-01-05T08:00:00Z', false],
  ['2026-01-05T08:00:00Z ', false],
  ['2026-01-05T08:00:00Z (or so)', false],
  ['2026-01-05T08:00:00Z or so', false],
  [['2026-01-05T08:00:00Z'], false],
  [20260105, false],
])('[K8] %j is an instant: %s', (value, isSo) => {
  expect(isInstant(value)).toBe(isSo);
});

test('[C1] a person is meant by role or name, once, whatever the capitals and the spaces', () => {
  const { team } = opening;
  expect(personFrom(team, ' scrub ')).toBe('Testa');
  expect(personFrom(team, ' Nuovo ')).toBe('Nuovo');
  expect(peopleFrom(team, ['scrub', 'TESTA', ' testa', 'circulator', ' ', 'Nuovo'])).toEqual([
    'Testa',
    'Prueba',
    'Nuovo',
  ]);
  const spaced = { ...team, scrub: ' Testa ' };
  expect(peopleFrom(spaced, ['scrub', 'Testa'])).toHaveLength(1);
});

test.each<readonly [Place, boolean]>([
  ['supply', true],
  ['changed', true],
  ['table', false],
  ['patient/abdomen', false],
  ['missing', false],
])('[L2] %s may be below zero: %s', (place, isSo) => {
  expect(isContra(place)).toBe(isSo);
});

test('[X10] a refusal says where only if there is a where', () => {
  expect(Object.keys(refuse('held').refusal)).toEqual(['code', 'sentence', 'whatToDo']);
  expect(refuse('held', 'x').refusal).toMatchObject({ code: 'held', detail: 'x' });
});

test('[X10] what does not hold is a fault with its sentence', () => {
  expect(() => assert(false, 'a case is opened once')).toThrow(new Fault('a case is opened once'));
  expect(() => assert(true, 'x')).not.toThrow();
  const danced = strange('{"type":"danced","entry":2}');
  expect(() => evolve(given().current, danced)).toThrow('Not handled: {"type":"danced","entry":2}');
});

/** What so many notes add to a case, whose commands have these ids. */
function noted(current: Case, ids: readonly string[]) {
  const events: CaseEvent[] = [];
  const last = ids.reduce((before, id) => {
    const decision = decide(before, { type: 'note', text: 'x' }, { ...context, id });
    if (!decision.ok) throw new Error(decision.refusal.code);
    events.push(...decision.events);
    return decision.events.reduce<Case>(evolve, before);
  }, current);
  return { current: last, events };
}

test('[X10] the ids of a thousand commands are each known, and no other is', () => {
  const { current } = given();
  const ids = Array.from({ length: 1000 }, (_, n) => `command-${n}`);
  const { current: last } = noted(current, ids);
  expect(ids.every((id) => isRecorded(last, id))).toBe(true);
  expect(ids.some((id) => isRecorded(current, id))).toBe(false);
  expect(isRecorded(last, 'command-1000')).toBe(false);
  expect(isRecorded(last, 'ommand-1')).toBe(false);
  expect(isRecorded(last, last.openedId)).toBe(true);
});

test('[X10] two cases that grew from one know their own ids, whichever is asked first', () => {
  const { current: one } = noted(given().current, ['one']);
  const { current: two } = noted(one, ['two']);
  const { current: other } = noted(one, ['other', 'last']);
  for (const current of [other, two, one, two, other]) {
    expect(isRecorded(current, 'one')).toBe(true);
    expect(isRecorded(current, 'two')).toBe(current === two);
    expect(isRecorded(current, 'last')).toBe(current === other);
  }
});

test('[L2] a row that posts more than there is stops the replay, and nothing of it is in the ledger', () => {
  const opened = openCase({ ...opening, type: 'open' }, { ...context, id: 'open' });
  if (!opened.ok) throw new Error(opened.refusal.code);
  const first = opened.events.reduce<Case | undefined>(evolve, undefined);
  if (!first) throw new Error('not opened');
  const seen = { type: 'carriedIn', line: 'swab', n: 1, site: 'abdomen', from: 'seen' } as const;
  const decision = decide(first, seen, { ...context, id: 'one' });
  if (!decision.ok) throw new Error(decision.refusal.code);
  const [event] = decision.events;
  if (event?.type !== 'carriedIn') throw new Error('nothing was carried in');
  const postings = [...event.postings, { line: 'swab', place: 'off' as const, by: -5 }];
  const torn = { ...event, entry: 3, id: 'two', postings };
  const whole = [{ events: opened.events }, { events: [event] }];
  const before = replay(whole);
  expect(replay([...whole, { events: [torn] }])).toMatchObject({ ok: false, row: 3 });
  expect(replay([...whole, { events: [torn] }]).current).toEqual(before.current);
});

test('[X10] a case that was replayed knows all its ids, and those that come after an entry was taken back', () => {
  const opened = openCase({ ...opening, type: 'open' }, { ...context, id: 'open' });
  if (!opened.ok) throw new Error(opened.refusal.code);
  const first = opened.events.reduce<Case | undefined>(evolve, undefined);
  if (!first) throw new Error('not opened');
  const { events } = noted(first, ['one', 'two']);
  const replayed = replay([{ events: opened.events }, { events }]);
  if (!replayed.ok) throw new Error(replayed.sentence);
  const { current } = noted(replayed.current, ['three']);
  const decision = decide(current, { type: 'correct' }, { ...context, id: 'four' });
  if (!decision.ok) throw new Error(decision.refusal.code);
  const corrected = decision.events.reduce<Case>(evolve, current);
  for (const id of ['open', 'one', 'two', 'three', 'four'])
    expect(isRecorded(corrected, id)).toBe(true);
  expect(isRecorded(corrected, 'five')).toBe(false);
  expect(isRecorded(replayed.current, 'three')).toBe(false);
});

test.each<readonly [string, RefusalCode, string | undefined, Command]>([
  ['a note of nothing', 'reason-missing', 'Prueba', { type: 'note', text: ' ' }],
  [
    'a weight of a line not known',
    'unknown-line',
    'mop',
    { type: 'weigh', line: 'mop', n: 1, wetG: 5 },
  ],
  ['a weight of no piece', 'not-a-quantity', 'n', { type: 'weigh', line: 'swab', n: 0, wetG: 5 }],
  [
    'a weight below nothing',
    'not-a-number',
    'wetG',
    { type: 'weigh', line: 'swab', n: 1, wetG: -1 },
  ],
  ['a fluid of no kind', 'malformed', 'kind', strange('{"type":"fluid","kind":"tea","ml":1}')],
  ['a fluid below nothing', 'not-a-number', 'ml', { type: 'fluid', kind: 'other', ml: -1 }],
  [
    'a handover of a line not known',
    'unknown-line',
    'mop',
    { type: 'handover', line: 'mop', to: 'ward', plan: 'x' },
  ],
  [
    'a handover without a plan',
    'reason-missing',
    'drain',
    { type: 'handover', line: 'drain', to: 'ward', plan: '' },
  ],
  [
    'a handover to nobody',
    'name-missing',
    'drain',
    { type: 'handover', line: 'drain', to: '', plan: 'x' },
  ],
  [
    'a handover of what does not stay',
    'not-enough',
    'drain',
    { type: 'handover', line: 'drain', to: 'ward', plan: 'x' },
  ],
])('[X9] [K10] it is refused: %s', (_, code, detail, command) => {
  given(...incised)
    .when(command)
    .refused(code, detail);
});

test('[K10] what was noted, weighed and measured is kept with when and by whom', () => {
  const { current } = given(
    { type: 'note', text: 'slow to start' },
    { type: 'weigh', line: 'swab', n: 2, wetG: 50 },
    { type: 'fluid', kind: 'irrigation', ml: 200 },
  );
  expect(current.notes).toEqual([{ text: 'slow to start', by: 'Prueba', at }]);
  expect(current.weighed).toEqual([{ line: 'swab', n: 2, wetG: 50, at }]);
  expect(current.fluids).toEqual([{ kind: 'irrigation', ml: 200, at }]);
  expect(current.log?.tail?.tail).toMatchObject({ type: 'noteWritten', subject: '' });
});

test('[K10] [K12] blood lost since a dose is what was measured after it', () => {
  const done: readonly Done[] = [
    { type: 'weigh', line: 'swab', n: 1, wetG: 105 },
    { type: 'fluid', kind: 'suction', ml: 100 },
    wait(5),
    { type: 'weigh', line: 'swab', n: 1, wetG: 55 },
    { type: 'fluid', kind: 'suction', ml: 30 },
  ];
  const { current } = given(...done);
  expect(lossOf(current)).toEqual({
    swabsMl: 150,
    suctionMl: 130,
    totalMl: 280,
    isUnknown: false,
    needsLook: false,
  });
  expect(lossOf(current, at)).toMatchObject({ swabsMl: 50, suctionMl: 30, totalMl: 80 });
  const even = given(
    { type: 'fluid', kind: 'suction', ml: 50 },
    { type: 'fluid', kind: 'other', ml: 50 },
  );
  expect(lossOf(even.current)).toMatchObject({ suctionMl: 0, needsLook: false });
});

test.each<readonly [string, string, boolean]>([
  ['500 letters', 'x'.repeat(500), true],
  ['501 letters', 'x'.repeat(501), false],
])('[X10] a text of %s is taken whole or not at all', (_, text, isTaken) => {
  const answered = given(...incised).when({ type: 'note', text });
  if (isTaken) answered.accepted();
  else answered.refused('too-long');
});

test('[X10] so is one that is deep in a command', () => {
  const long = 'x'.repeat(501);
  const answers = { seen: true, dry: { open: { name: 'surgeon', reason: long } } };
  given(...incised)
    .when({ type: 'look', closure: 'abdomen', answers })
    .refused('too-long');
  given(...incised)
    .when({ type: 'agree', by: ['scrub', long] })
    .refused('too-long');
  given(...incised)
    .when(strange('{"type":"note","text":"short","more":null}'))
    .accepted();
});

test('[X10] what is said as nothing in a command is nothing', () => {
  given(...incised)
    .when({ type: 'note', text: 'short', ...{ more: undefined } })
    .accepted();
});

test('[X1] sign in is finished again after it was reopened, whatever holds sign out', () => {
  const again = given(
    ...incised,
    { type: 'beginCheckpoint', id: 'sign-out' },
    { type: 'reopenCheckpoint', id: 'sign-in', reason: 'new allergy' },
  );
  again.when({ type: 'finishCheckpoint', id: 'sign-in' }).accepted();
});

test('[X10] entries with nothing to put back share one empty list', () => {
  const note: Done = { type: 'beginCount', moment: 'closing' };
  const into: Done = { type: 'move', line: 'swab', from: 'table', to: 'off', n: 1 };
  const { log } = given(...incised, into, note).current;
  expect(log?.undo).toBe(log?.tail?.undo);
  expect(log?.undo).toEqual([]);
});

test('[X10] an entry that is about no line, specimen or closure names none', () => {
  const subject = (...done: readonly Done[]) => given(...done).current.log?.subject;
  expect(subject(...incised)).toBe('');
  expect(subject(...incised, { type: 'beginCount', moment: 'closing' })).toBe('');
  expect(subject(...incised, { type: 'relief', role: 'scrub', to: 'Nuovo' })).toBe('');
});

test('[K6] on the day of becoming an adult the flag is that of an adult', () => {
  const on = '2026-01-05T08:00:00Z';
  const { policy } = opening.sheet;
  const patient = { ...opening.patient, weightKg: 50 };
  expect(bloodLossLimitMl({ ...patient, born: '2008-01-05' }, policy, on)).toBe(500);
  expect(bloodLossLimitMl({ ...patient, born: '2008-01-06' }, policy, on)).toBe(350);
});

const finished: readonly Done[] = [
  ...incised,
  ...specimenGone,
  ...closedUp,
  checkpoint('sign-out'),
  { type: 'finish' },
];

test.each<readonly [string, Command, boolean]>([
  ['a film', { type: 'xray', wholeField: true, result: 'seen', readBy: 'L' }, true],
  ['a note', { type: 'note', text: 'seen next day' }, true],
  [
    'another step of a discrepancy',
    { type: 'discrepancy', line: 'swab', step: 'record-read', by: 'surgeon' },
    false,
  ],
  ['a specimen', strange('{"type":"specimen","id":"lump","step":"found"}'), false],
  ['a dose', { type: 'dose', agent: 'cefuroxime' }, false],
])('[X8] after the case %s is taken: %s', (_, command, isTaken) => {
  const answered = given(...finished).when(command);
  if (isTaken) answered.accepted();
  else answered.refused('case-finished');
});

test('[X8] after the case a piece can still be found, where one is missing', () => {
  given(...finished)
    .when({ type: 'discrepancy', line: 'swab', step: 'found', place: 'off' })
    .refused('no-discrepancy');
});

test('[X1] sign out is held when it is finished, and only it', () => {
  const begun = given(...incised, { type: 'beginCheckpoint', id: 'sign-out' });
  begun.when({ type: 'finishCheckpoint', id: 'sign-out' }).refused('held');
  given(...incised)
    .when({ type: 'finishCheckpoint', id: 'sign-out' })
    .refused('checkpoint-not-begun');
  const signIn = given({ type: 'beginCheckpoint', id: 'sign-in' });
  signIn.when({ type: 'finishCheckpoint', id: 'sign-in' }).refused('steps-open');
  given(...finished.slice(0, -1), { type: 'add', line: 'loop', n: 1 })
    .when({ type: 'finishCheckpoint', id: 'sign-out' })
    .refused('checkpoint-finished');
  begun.when({ type: 'reopenCheckpoint', id: 'sign-out', reason: 'x' }).refused('checkpoint-open');
});

test('[X5] what changes inside asks the looks again, but not of a closure that is made', () => {
  const made = given(
    ...incised,
    ...specimenGone,
    look('abdomen'),
    count('cavity'),
    { type: 'close', closure: 'uterus' },
    count('closing'),
    { type: 'close', closure: 'abdomen' },
  );
  const into: Command = { type: 'move', line: 'swab', from: 'table', to: 'patient/vagina', n: 1 };
  const after = made.when(into).accepted();
  expect(Object.keys(after.current.looks)).toEqual(['abdomen']);
  expect(after.current.looks).toBe(made.current.looks);
  const { current } = given(...incised, look('abdomen'), { ...into, to: 'patient/uterus' });
  expect(current.looks).toEqual({});
});

test('[X5] of two looks only that of the open closure is asked again', () => {
  const closures = opening.sheet.closures.map((one) => ({
    ...one,
    look: [step('seen', { kind: 'confirm' })],
  }));
  const on = { ...opening.sheet, closures };
  const { current } = givenOn(
    on,
    ...incised,
    look('uterus'),
    count('cavity'),
    { type: 'close', closure: 'uterus' },
    look('abdomen'),
    { type: 'move', line: 'swab', from: 'table', to: 'patient/vagina', n: 1 },
  );
  expect(Object.keys(current.looks)).toEqual(['uterus']);
});

test('[X10] a record begins with its opening, and goes on in its order', () => {
  const decision = openCase(opening, { ...context, id: 'open' });
  const [opened] = decision.ok ? decision.events : [];
  const { current } = given(...incised);
  if (!opened) throw new Error('the case was not opened');
  expect(() => evolve(current, opened)).toThrow(new Fault('a case is opened once'));
  const note = { ...context, type: 'noteWritten', text: 'x' } as const;
  expect(() => evolve(undefined, { ...note, entry: 2 })).toThrow(
    new Fault('the first event opens the case'),
  );
  expect(() => evolve(current, { ...note, entry: 3 })).toThrow(
    new Fault(`entry 3 comes after ${current.entry}`),
  );
  expect(evolve(current, { ...note, entry: current.entry }).notes).toHaveLength(1);
});

test('[X10] a replay gives the case, or the row at which the record stops making sense', () => {
  const decision = openCase(opening, { ...context, id: 'open' });
  const opened = decision.ok ? decision.events : [];
  const note = { ...context, type: 'noteWritten', text: 'x', entry: 2 } as const;
  const whole = replay([{ events: opened }, { events: [note] }]);
  expect(whole).toMatchObject({ ok: true, current: { entry: 2, notes: [{ text: 'x' }] } });
  expect(replay([])).toEqual({
    ok: false,
    row: 1,
    sentence: 'The record is empty.',
    current: undefined,
  });
  const twice = replay([{ events: opened }, { events: opened }]);
  expect(twice).toMatchObject({
    ok: false,
    row: 2,
    sentence: 'a case is opened once',
    current: { entry: 1 },
  });
  const broken = strange('[{"events":[{"type":"opened"}]}]');
  expect(replay(broken)).toMatchObject({ ok: false, row: 1, current: undefined });
  expect(replay(broken)).not.toHaveProperty('sentence', 'The record is empty.');
  expect(noPrevious).toMatch(/^0{64}$/);
});

test('[X10] what is no command and no event is a fault in every area', () => {
  const { current } = given();
  const danced = strange('{"type":"danced","entry":2}');
  for (const decideArea of [decideCheckpoints, decideClosures, decideNotes])
    expect(() => decideArea(current, danced, context)).toThrow(Fault);
  expect(() => decide(current, danced, context)).toThrow(Fault);
  expect(() => evolve(current, danced)).toThrow(Fault);
  expect(() => evolveCheckpoints(current, danced)).toThrow(Fault);
  expect(() => evolveClosures(current, danced)).toThrow(Fault);
  expect(() => evolveNotes(current, danced)).toThrow(Fault);
  const lump = strange('{"type":"danced","specimen":"lump","entry":2,"id":"x","at":"x","by":"x"}');
  expect(() => evolveSpecimens(current, lump)).toThrow(Fault);
});

test.each([
  ['2026-01-12T08:00:00+00:00', 0],
  ['2026-01-11T09:00:00+00:00', 1],
  ['2026-01-11T09:00:01+00:00', 0],
  ['2026-01-13T09:00:00+00:00', 0],
])('since %s it is %i days', (since, days) => {
  expect(daysSince(since, '2026-01-12T09:00:00+00:00')).toBe(days);
});
