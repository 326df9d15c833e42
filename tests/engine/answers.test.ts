import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import type { Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { usualAnswer } from '#engine/case/usualAnswer.ts';
import { answerFrom } from '#engine/checkpoints/answerFrom.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Answering, Checkpoint, Sheet } from '#engine/sheet.ts';
import { checkpoint, count, type Done, given, givenOn, incised, wait } from '../support/given.ts';
import { step, storySheet } from '../support/storySheet.ts';

/** Checkpoints step by step: what is an answer, what is refused and where, what is kept and taken back. */

const now = '2026-01-05T08:00:00+00:00';
const begin = { type: 'beginCheckpoint', id: 'sign-in' } as const;
const finish = { type: 'finishCheckpoint', id: 'sign-in' } as const;
const reopen = { type: 'reopenCheckpoint', id: 'sign-in', reason: 'new allergy' } as const;
const answer = { type: 'answer', checkpoint: 'sign-in' } as const;
const marked = { ...answer, step: 'marked', value: 'yes' } as const;
const done: readonly Done[] = [checkpoint('sign-in')];
const dose = { type: 'dose', agent: 'cefuroxime' } as const;

const stops: Answering = {
  kind: 'choice',
  options: [
    { id: 'bad', name: 'Bad' },
    { id: 'good', name: 'Good' },
  ],
};
const opens: Answering = {
  kind: 'number',
  opens: { line: 'faecolith', site: 'abdomen', from: 'imaging' },
};

test.each<readonly [Answering, unknown, string | undefined]>([
  [{ kind: 'confirm' }, true, 'yes'],
  [{ kind: 'confirm' }, 'yes', 'yes'],
  [{ kind: 'confirm' }, false, 'no'],
  [{ kind: 'confirm' }, 'no', 'no'],
  [{ kind: 'confirm' }, 'perhaps', undefined],
  [stops, 'good', 'good'],
  [stops, 'lovely', undefined],
  [{ kind: 'number' }, 12.5, '12.5'],
  [{ kind: 'number' }, '12.75', '12.75'],
  [{ kind: 'number' }, '50', '50'],
  [{ kind: 'number' }, '', undefined],
  [{ kind: 'number' }, 'a50', undefined],
  [{ kind: 'number' }, '50a', undefined],
  [{ kind: 'number' }, '0x10', undefined],
  [{ kind: 'number' }, true, undefined],
  [{ kind: 'number' }, null, undefined],
  [{ kind: 'number' }, ['50'], undefined],
  [opens, 2, '2'],
  [opens, 2.5, undefined],
  [{ kind: 'time' }, now, now],
  [{ kind: 'time' }, 'half past one', undefined],
  [{ kind: 'text' }, 'left hip', 'left hip'],
  [{ kind: 'text' }, '  ', undefined],
  [{ kind: 'computed', from: 'counts' }, 'yes', undefined],
])('[K3] to %j the answer %j is kept as %s', (answering, value, kept) => {
  expect(answerFrom(step('asked', answering), value)).toBe(kept);
});

test.each<readonly [string, Answering, string | undefined]>([
  ['a question that is confirmed', { kind: 'confirm' }, 'yes'],
  ['a choice: the first that does not stop', stops, 'good'],
  ['a number', { kind: 'number' }, '0'],
  ['a time: now', { kind: 'time' }, now],
  ['words', { kind: 'text' }, 'none'],
  ['what the case answers', { kind: 'computed', from: 'counts' }, undefined],
])('[K3] without trouble, %s is answered as usual', (_, answering, usual) => {
  expect(usualAnswer(step('asked', answering, { stopOn: ['bad'] }), now)).toBe(usual);
  expect(usualAnswer(step('asked', answering, { usual: 'so' }), now)).toBe('so');
});

test('[K3] a choice of which every answer stops has none that is usual', () => {
  expect(usualAnswer(step('asked', stops, { stopOn: ['bad', 'good'] }), now)).toBeUndefined();
});

const notApplicable = { ...answer, step: 'marked', notApplicable: ' ' } as const;

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  ['beginning one not known', 'unknown-checkpoint', 'lunch', [], { ...begin, id: 'lunch' }],
  ['led by nobody', 'name-missing', 'leader', [], { ...begin, leader: ' ' }],
  ['beginning twice', 'already-done', 'Sign in', [begin], begin],
  ['beginning a finished one', 'checkpoint-finished', 'Sign in', done, begin],
  ['before its turn', 'checkpoint-order', 'Sign in', [], { ...begin, id: 'time-out' }],
  ['a leader who is not there', 'leader-absent', 'Ensayo', [], { ...begin, leader: 'surgeon' }],
  [
    'somebody missing',
    'people-absent',
    'anaesthetist',
    [],
    { ...begin, present: ['circulator', 'scrub'] },
  ],
  [
    'answering at one not known',
    'unknown-checkpoint',
    'lunch',
    [],
    { ...marked, checkpoint: 'lunch' },
  ],
  ['answering what is not asked', 'unknown-step', 'shoes', [begin], { ...marked, step: 'shoes' }],
  ['no reason why it does not apply', 'reason-missing', 'marked', done, notApplicable],
  ['answering a finished one', 'checkpoint-finished', 'Sign in', done, marked],
  ['answering before it began', 'checkpoint-not-begun', 'Sign in', [], marked],
  [
    'no answer to the question',
    'not-an-answer',
    'marked',
    [begin],
    { ...marked, value: 'perhaps' },
  ],
  ['finishing one not known', 'unknown-checkpoint', 'lunch', [], { ...finish, id: 'lunch' }],
  ['finishing twice', 'checkpoint-finished', 'Sign in', done, finish],
  ['finishing before it began', 'checkpoint-not-begun', 'Sign in', [], finish],
  ['finishing with a step open', 'steps-open', 'sterility', [begin], finish],
  ['reopening one not known', 'unknown-checkpoint', 'lunch', [], { ...reopen, id: 'lunch' }],
  ['reopening without a reason', 'reason-missing', undefined, done, { ...reopen, reason: ' ' }],
  ['reopening what was never begun', 'checkpoint-open', 'sign-in', [], reopen],
  ['reopening what is open', 'checkpoint-open', 'sign-in', [begin], reopen],
  ['cutting twice', 'already-done', undefined, incised, { type: 'incision' }],
  ['cutting before time out', 'checkpoint-open', 'Time out', done, { type: 'incision' }],
  [
    'cutting when sign in was reopened',
    'checkpoint-open',
    'Sign in',
    [...incised.slice(0, -1), reopen],
    { type: 'incision' },
  ],
  ['a medicine not known', 'unknown-agent', 'water', [], { ...dose, agent: 'water' }],
  ['a dose of nothing', 'not-a-number', 'mg', [], { ...dose, mg: 0 }],
  ['a dose at no time', 'not-a-time', 'at', [], { ...dose, at: 'eight' }],
])('[K1] [K2] [K3] a checkpoint refuses %s', (_, code, detail, before, command) => {
  given(...before)
    .when(command)
    .refused(code, detail);
});

test('[K3] a last look, too, wants a reason where a step does not apply', () => {
  given(...incised)
    .when({ type: 'look', closure: 'abdomen', answers: { seen: { notApplicable: ' ' } } })
    .refused('reason-missing', 'seen');
});

const timeOut: readonly Done[] = [
  ...done,
  dose,
  count('first'),
  { type: 'beginCheckpoint', id: 'time-out' },
];
const stones = (value: number): Command => ({
  type: 'answer',
  checkpoint: 'time-out',
  step: 'stones',
  value,
});

test('[K6] a number said again opens only what is more; what is less takes nothing out', () => {
  const types = (before: readonly Done[], command: Command) =>
    given(...timeOut, ...before)
      .when(command)
      .events()
      .map((event) => (event.type === 'carriedIn' ? `${event.n} of ${event.line}` : event.type));
  expect(types([], stones(0))).toEqual(['answered']);
  expect(types([], stones(3))).toEqual(['answered', '3 of faecolith']);
  expect(types([stones(3)], stones(3))).toEqual(['answered']);
  expect(types([stones(3)], stones(5))).toEqual(['answered', '2 of faecolith']);
  expect(types([stones(3)], stones(2))).toEqual(['answered']);
  expect(types([stones(2), stones(3)], stones(4))).toEqual(['answered', '1 of faecolith']);
});

test.each<readonly [string, Command]>([
  ['line', { type: 'carriedIn', line: 'seal', n: 2, site: 'abdomen', from: 'imaging' }],
  ['site', { type: 'carriedIn', line: 'faecolith', n: 2, site: 'uterus', from: 'imaging' }],
  ['source', { type: 'carriedIn', line: 'faecolith', n: 2, site: 'abdomen', from: 'seen' }],
])('[K6] what starts inside of another %s is not taken off the number', (_, other) => {
  const events = given(...timeOut, other)
    .when(stones(3))
    .events();
  expect(events).toMatchObject([{ type: 'answered' }, { type: 'carriedIn', n: 3 }]);
});

test('[K6] a number that was left open, or is of no line of the case, opens nothing', () => {
  const open = { name: 'surgeon', reason: 'no film yet' };
  const left = { type: 'answer', checkpoint: 'time-out', step: 'stones', open } as const;
  expect(
    given(...timeOut)
      .when(left)
      .events(),
  ).toMatchObject([{ type: 'answered' }]);
  const lines = storySheet.lines.filter(({ id }) => id !== 'faecolith');
  const bare = givenOn({ ...storySheet, lines }, ...timeOut).when(stones(3));
  expect(bare.events()).toMatchObject([{ type: 'answered' }]);
});

test('[K5] what computed steps said is kept when a checkpoint is finished, and only that', () => {
  const finished = given(...timeOut, stones(0))
    .when({ type: 'finishCheckpoint', id: 'time-out' })
    .accepted();
  expect(finished.current.checkpoints['time-out']?.computed).toEqual({
    antibiotic: 'Cefuroxime at 08:00, 0 min before',
    'first-count': 'Agreed by Testa and Prueba',
  });
  const notGiven = {
    type: 'answer',
    checkpoint: 'time-out',
    step: 'antibiotic',
    notApplicable: 'local',
  } as const;
  const without = given(...timeOut, stones(0), notGiven, {
    type: 'finishCheckpoint',
    id: 'time-out',
  });
  expect(without.current.checkpoints['time-out']?.computed).toEqual({
    'first-count': 'Agreed by Testa and Prueba',
  });
});

test.each([
  [19, false],
  [20, false],
  [21, true],
])(
  '[K7] three steps in a minute, at %d seconds a step, are answered too fast: %s',
  (seconds, fast) => {
    const sheet: Sheet = {
      ...storySheet,
      policy: { ...storySheet.policy, secondsPerStep: seconds },
    };
    const answered: readonly Done[] = [
      begin,
      { ...answer, step: 'sterility', value: 'fine' },
      marked,
      { ...answer, step: 'blood-loss', value: 50 },
      wait(1),
    ];
    const finished = givenOn(sheet, ...answered).when(finish);
    expect(finished.said()).toEqual(fast ? ['answered-fast'] : []);
    expect(finished.accepted().current.checkpoints['sign-in']?.fast).toBe(fast);
  },
);

const early = { ...dose, at: '2026-01-05T06:59:00+00:00' } as const;
const withoutDose = { kind: 'notApplicable', reason: 'local' } as const;
const timeOutWithout: Done = {
  kind: 'checkpoint',
  id: 'time-out',
  answers: { antibiotic: withoutDose },
  leader: undefined,
  present: undefined,
};

test('[K8] a dose outside its window is said when it is given, and again at the incision', () => {
  expect(given().when(dose).said()).toEqual([]);
  expect(given().when(early).said()).toEqual(['dose-late']);
  expect(given(dose).when(early).said()).toEqual([]); // one stands in its window
  const cut = (...doses: readonly Done[]) =>
    given(...done, ...doses, count('first'), timeOutWithout)
      .when({ type: 'incision' })
      .said();
  expect(cut()).toEqual([]);
  expect(cut(dose)).toEqual([]);
  expect(cut(early)).toEqual(['dose-late']);
});

test('[K8] a first dose after the incision is late, by the incision and not by the clock', () => {
  const cut: readonly Done[] = [...done, count('first'), timeOutWithout, { type: 'incision' }];
  expect(
    given(...cut, wait(90))
      .when(dose)
      .said(),
  ).toEqual(['dose-late']);
  expect(
    given(...cut, wait(90))
      .when({ ...dose, at: '2026-01-05T07:30:00+00:00' })
      .said(),
  ).toEqual([]);
});

test('[K8] a dose is kept with its milligrams, or without where none were said', () => {
  const [bare] = given().when(dose).events();
  expect(Object.keys(bare ?? {})).not.toContain('mg');
  const story = given({ ...dose, mg: 1500 });
  expect(story.current.doses).toEqual([{ agent: 'cefuroxime', mg: 1500, at: now }]);
  expect(story.current.log).toMatchObject({ type: 'dosed', subject: 'cefuroxime' });
});

test('[K3] each time a checkpoint was reopened is kept with its reason', () => {
  const again: readonly Done[] = [reopen, finish];
  const story = given(...done, ...again, { ...reopen, reason: 'wrong side' });
  expect(story.current.checkpoints['sign-in']?.reopened).toEqual([
    { reason: 'new allergy', at: now },
    { reason: 'wrong side', at: now },
  ]);
  expect(story.current.checkpoints['sign-in']).toMatchObject({
    begun: true,
    finishedAt: undefined,
    leader: 'Prueba',
    present: ['Prueba', 'Probe'],
  });
});

test('[L12] an answer on which a checkpoint was finished is not taken back', () => {
  const story = given(begin, { ...answer, step: 'sterility', value: 'fine' }, marked, {
    ...answer,
    step: 'blood-loss',
    value: 50,
  });
  const { entry } = story.current;
  const finished = story.when(finish).accepted();
  finished.when({ type: 'correct', entry }).refused('entry-depended-on', `Entry ${entry + 1}`);
});

const child: Checkpoint = {
  id: 'extra',
  name: 'Extra',
  before: 'anaesthesia',
  leader: 'circulator',
  present: ['circulator'],
  when: { variant: ['open'] },
  steps: [
    step('first', { kind: 'number' }),
    step('which', stops),
    step('of-which', { kind: 'confirm' }, { when: { step: 'which', is: ['good'] } }),
    step('of-any', { kind: 'confirm' }, { when: { step: 'which' } }),
    step('open-only', { kind: 'confirm' }, { when: { variant: ['open', 'robot'] } }),
    step('keyhole-only', { kind: 'confirm' }, { when: { variant: ['keyhole'] } }),
    step('loss', { kind: 'number', flag: 'blood-loss' }),
    step('small', { kind: 'confirm' }, { when: { step: 'loss', flagged: false } }),
    step('no-flag', { kind: 'confirm' }, { when: { step: 'first', flagged: true } }),
    step('of-nothing', { kind: 'confirm' }, { when: { step: 'gone', flagged: false } }),
  ],
};
const extra: Sheet = { ...storySheet, checkpoints: [child] };
const toExtra = (step_: string, value: string | number) =>
  ({ type: 'answer', checkpoint: 'extra', step: step_, value }) as const;
const begunExtra: readonly Done[] = [
  { type: 'variant', to: 'open' },
  { type: 'beginCheckpoint', id: 'extra' },
];

test.each<readonly [string, boolean, readonly Done[]]>([
  ['of-which', true, [toExtra('which', 'good')]],
  ['of-which', false, [toExtra('which', 'bad')]],
  ['of-which', false, []],
  ['of-any', true, [toExtra('which', 'bad')]],
  ['open-only', true, []],
  ['keyhole-only', false, []],
  ['small', true, [toExtra('loss', 500)]],
  ['small', false, [toExtra('loss', 501)]],
  ['no-flag', false, [toExtra('first', 9999)]],
  ['of-nothing', false, []],
])('[K6] the step %s is asked: %s', (id, isAsked, before) => {
  const answered = givenOn(extra, ...begunExtra, ...before).when(toExtra(id, 'yes'));
  if (isAsked) answered.accepted();
  else answered.refused('unknown-step', id);
});

test('[K6] what hangs on a step that was left open or does not apply is not asked', () => {
  const open = { name: 'surgeon', reason: 'x' };
  givenOn(extra, ...begunExtra, { ...toExtra('which', 'x'), open })
    .when(toExtra('of-any', 'yes'))
    .refused('unknown-step');
});

test('[K6] a checkpoint of another variant is not there', () => {
  givenOn(extra)
    .when({ type: 'beginCheckpoint', id: 'extra' })
    .refused('unknown-checkpoint', 'extra');
  expect(givenOn(extra, count('first')).about('skin')).not.toContain('checkpoint-open extra');
});

test('[K2] a checkpoint that begins has no answer, no time and no mark', () => {
  expect(given(begin).current.checkpoints['sign-in']).toStrictEqual({
    begun: true,
    leader: 'Prueba',
    present: ['Prueba', 'Probe'],
    answers: {},
    beganAt: now,
    finishedAt: undefined,
    computed: {},
    fast: false,
    reopened: [],
  });
});

test('[K1] a record in which a checkpoint is answered before it begins is damaged', () => {
  const stamp = { entry: 2, id: 'x', at: now, by: 'Prueba' };
  const value = { kind: 'given', value: 'yes', by: 'Prueba', at: now } as const;
  const { current } = given();
  const event = {
    ...stamp,
    type: 'answered',
    checkpoint: 'sign-in',
    step: 'marked',
    answer: value,
  } as const;
  expect(() => evolve(current, event)).toThrow(
    new Fault('a checkpoint begins before it is answered, finished or reopened'),
  );
});
