import { expect, test } from 'vitest';
import { bloodLossLimitMl, yearsOld } from '#engine/applies.ts';
import { redoseDueAt } from '#engine/checkpoints/prophylaxis.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import {
  checkpoint,
  count,
  type Done,
  given,
  givenOpened,
  incised,
  opening,
  wait,
} from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

const begin = { type: 'beginCheckpoint', id: 'sign-in' } as const;
const answer = { type: 'answer', checkpoint: 'sign-in' } as const;
const finish = { type: 'finishCheckpoint', id: 'sign-in' } as const;
const allButMarked: readonly Done[] = [
  begin,
  { ...answer, step: 'sterility', value: 'fine' },
  { ...answer, step: 'blood-loss', value: 50 },
];
const dose = { type: 'dose', agent: 'cefuroxime' } as const;
const ready: readonly Done[] = [checkpoint('sign-in'), count('first')];

test('[K1] sign in before time out, both before the incision', () => {
  given().when({ type: 'incision' }).refused('checkpoint-open');
  given()
    .when({ ...begin, id: 'time-out' })
    .refused('checkpoint-order');
  given(checkpoint('sign-in'), dose, count('first'))
    .when({ type: 'incision' })
    .refused('checkpoint-open');
  given(...incised)
    .when({ type: 'incision' })
    .refused('already-done');
  given()
    .when({ ...begin, id: 'lunch' })
    .refused('unknown-checkpoint');
});

test('[K1] a checkpoint that was not finished holds every closure', () => {
  for (const gate of ['uterus', 'abdomen', 'skin', 'sign-out'])
    expect(given(count('first')).holds(gate)).toContain('checkpoint-open');
  expect(given(...incised).holds('skin')).not.toContain('checkpoint-open');
});

test('[K2] its leader is there, and everybody who must be', () => {
  given()
    .when({ ...begin, present: ['anaesthetist', 'surgeon'] })
    .refused('leader-absent');
  given()
    .when({ ...begin, present: ['circulator'] })
    .refused('people-absent');
  given()
    .when({ ...begin, leader: '' })
    .refused('name-missing');
  given()
    .when({ ...begin, leader: 'surgeon', present: ['surgeon', 'circulator', 'anaesthetist'] })
    .records({ type: 'checkpointBegun', leader: 'Ensayo' });
  given(begin).when(begin).refused('already-done');
});

test('[K3] a checkpoint waits for every step that applies', () => {
  given()
    .when({ ...answer, step: 'marked', value: 'yes' })
    .refused('checkpoint-not-begun');
  given(...allButMarked)
    .when(finish)
    .refused('steps-open');
  given(...allButMarked, { ...answer, step: 'marked', value: true })
    .when(finish)
    .accepted();
  given(...allButMarked, { ...answer, step: 'marked', notApplicable: 'midline' })
    .when(finish)
    .accepted();
  const open = {
    ...answer,
    step: 'marked',
    open: { name: 'surgeon', reason: 'bleeding' },
  } as const;
  const left = given(...allButMarked, open)
    .when(finish)
    .accepted();
  expect(left.current.checkpoints['sign-in']?.answers.marked).toMatchObject({ name: 'Ensayo' });
});

test('[K3] what does not apply has a reason, where the step allows it; what is open a name', () => {
  const story = given(begin);
  story.when({ ...answer, step: 'marked', notApplicable: '' }).refused('reason-missing');
  story.when({ ...answer, step: 'sterility', notApplicable: 'none' }).refused('always-applies');
  story
    .when({ ...answer, step: 'marked', open: { name: '', reason: 'x' } })
    .refused('name-missing');
  story
    .when({ ...answer, step: 'marked', open: { name: 'surgeon', reason: '' } })
    .refused('reason-missing');
  story.when({ ...answer, step: 'shoes', value: 'yes' }).refused('unknown-step');
});

test('[K3] an answer must answer the question', () => {
  const story = given(begin);
  story.when({ ...answer, step: 'marked', value: 'perhaps' }).refused('not-an-answer');
  story.when({ ...answer, step: 'sterility', value: 'lovely' }).refused('not-an-answer');
  story.when({ ...answer, step: 'blood-loss', value: -1 }).refused('not-an-answer');
  story.when({ ...answer, step: 'blood-loss', value: 'much' }).refused('not-an-answer');
});

test('[K3] a finished checkpoint is reopened with a reason, not answered again', () => {
  const done = given(checkpoint('sign-in'));
  done.when({ ...answer, step: 'marked', value: 'no' }).refused('checkpoint-finished');
  done.when({ type: 'reopenCheckpoint', id: 'sign-in', reason: '' }).refused('reason-missing');
  const open = done
    .when({ type: 'reopenCheckpoint', id: 'sign-in', reason: 'new allergy' })
    .accepted();
  open.when({ ...answer, step: 'marked', value: 'yes' }).accepted();
  expect(open.holds('abdomen')).toContain('checkpoint-open');
});

test('[K4] an answer that stops is recorded, and stops until another is given', () => {
  const stopped = given(...allButMarked, { ...answer, step: 'marked', value: 'yes' })
    .when({ ...answer, step: 'sterility', value: 'problem' })
    .accepted();
  stopped.when(finish).refused('answer-stops');
  const settled = stopped.when({ ...answer, step: 'sterility', value: 'fine' }).accepted();
  settled.when(finish).accepted();
});

test('[K5] a computed step takes its answer from the case, and nobody can tick it', () => {
  const timeOut: readonly Done[] = [checkpoint('sign-in'), { ...begin, id: 'time-out' }];
  given(...timeOut)
    .when({ type: 'answer', checkpoint: 'time-out', step: 'first-count', value: 'yes' })
    .refused('is-computed');
  given(checkpoint('sign-in'), dose).when(checkpoint('time-out')).refused('steps-open');
  given(checkpoint('sign-in'), dose, count('first')).when(checkpoint('time-out')).accepted();
});

test('[K6] a number over its flag asks the step that belongs to it', () => {
  const ready_ = { ...answer, step: 'ready', value: 'yes' } as const;
  const lost = (value: number): Done => ({ ...answer, step: 'blood-loss', value });
  given(begin, lost(500)).when(ready_).refused('unknown-step');
  given(begin, lost(501)).when(ready_).accepted();
});

test('[K6] in a child the flag is 7 mL a kilogram; without a weight every loss is over it', () => {
  const child = { ...opening.patient, born: '2020-06-01', weightKg: 20 };
  const { policy } = storySheet;
  expect(bloodLossLimitMl(child, policy, '2026-01-05T08:00:00Z')).toBe(140);
  const { weightKg: _, ...unweighed } = child;
  expect(bloodLossLimitMl(unweighed, policy, '2026-01-05T08:00:00Z')).toBe(0);
  const ready_ = { ...answer, step: 'ready', value: 'yes' } as const;
  const lost: Done = { ...answer, step: 'blood-loss', value: 141 };
  givenOpened({ ...opening, patient: child }, begin, lost)
    .when(ready_)
    .accepted();
});

test.each([
  ['2008-01-06', 17],
  ['2008-01-05', 18],
  ['2008-01-04', 18],
  ['2007-12-31', 18],
])('[K6] somebody born on %s is %d on 5 January 2026', (born, years) => {
  expect(yearsOld(born, '2026-01-05T08:00:00Z')).toBe(years);
});

test('[K6] stones that imaging shows are inside from the answer on', () => {
  const story = given(...ready, dose, checkpoint('time-out', { stones: 3 }));
  expect(story.balance('faecolith', 'patient/abdomen')).toBe(3);
});

test('[K7] steps answered faster than they can be said are marked', () => {
  const quick = given().when(checkpoint('sign-in')).warned('answered-fast');
  expect(quick.current.checkpoints['sign-in']?.fast).toBe(true);
  const calm = given(...allButMarked, { ...answer, step: 'marked', value: 'yes' }, wait(1), finish);
  expect(calm.current.checkpoints['sign-in']?.fast).toBe(false);
});

test.each([
  ['cefuroxime', 0, true],
  ['cefuroxime', 60, true],
  ['cefuroxime', 61, false],
  ['vancomycin', 120, true],
  ['vancomycin', 121, false],
])('[K8] %s started %d minutes before: in its window %s', (agent, minutes, isInside) => {
  const answered = given(...ready, { type: 'dose', agent }, wait(minutes)).when(
    checkpoint('time-out'),
  );
  if (isInside) answered.accepted();
  else answered.refused('steps-open');
});

test('[K8] no dose, an unknown one, or one in the future is not taken for one', () => {
  given(...ready, { type: 'beginCheckpoint', id: 'time-out' })
    .when({ type: 'finishCheckpoint', id: 'time-out' })
    .refused('steps-open');
  given().when({ type: 'dose', agent: 'water' }).refused('unknown-agent');
  given()
    .when({ ...dose, mg: 0 })
    .refused('not-a-number');
  given()
    .when({ ...dose, at: '2026-01-05T08:01:00+00:00' })
    .refused('not-a-time');
  given()
    .when({ ...dose, at: 'eight' })
    .refused('not-a-time');
  given(...incised, wait(5))
    .when({ ...dose, at: '2026-01-05T08:05:00+00:00' })
    .accepted();
});

test('[K9] the next dose is due from the start of the last, not from the incision', () => {
  const story = given(...ready, dose, wait(30), checkpoint('time-out'), { type: 'incision' });
  expect(redoseDueAt(story.current)).toBe('2026-01-05T12:00:00.000Z');
  expect(redoseDueAt(given().current)).toBeUndefined();
  expect(redoseDueAt(given({ type: 'dose', agent: 'vancomycin' }).current)).toBeUndefined();
});

test('[K10] blood loss is wet less dry, and suction less what was poured in', () => {
  const { current } = given(
    ...incised,
    { type: 'weigh', line: 'swab', n: 3, wetG: 45 },
    { type: 'fluid', kind: 'suction', ml: 500 },
    { type: 'fluid', kind: 'irrigation', ml: 300 },
    { type: 'fluid', kind: 'other', ml: 50 },
  );
  expect(lossOf(current)).toMatchObject({ swabsMl: 30, suctionMl: 150, totalMl: 180 });
});

test('[K10] unknown is not shown as a number, nor is less than nothing', () => {
  const unknown = given(...incised, { type: 'weigh', line: 'old-pack', n: 1, wetG: 45 });
  expect(lossOf(unknown.current).isUnknown).toBe(true);
  const dry = given(...incised, { type: 'weigh', line: 'swab', n: 3, wetG: 15 });
  expect(lossOf(dry.current)).toMatchObject({ isUnknown: false, swabsMl: 0 });
  const light = given(...incised, { type: 'weigh', line: 'swab', n: 3, wetG: 14 });
  expect(lossOf(light.current)).toMatchObject({ isUnknown: true, swabsMl: 0 });
  const more = given(...incised, { type: 'fluid', kind: 'irrigation', ml: 300 });
  expect(lossOf(more.current)).toMatchObject({ suctionMl: 0, needsLook: true });
  given().when({ type: 'fluid', kind: 'suction', ml: -1 }).refused('not-a-number');
  given().when({ type: 'weigh', line: 'swab', n: 0, wetG: 5 }).refused('not-a-quantity');
});
