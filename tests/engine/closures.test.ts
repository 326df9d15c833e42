import { expect, test } from 'vitest';
import { decide } from '#engine/case/decide.ts';
import { evolve } from '#engine/case/evolve.ts';
import { replay } from '#engine/history/replay.ts';
import {
  checkpoint,
  closedUp,
  count,
  type Done,
  given,
  incised,
  look,
  recount,
  specimenGone,
} from '../support/given.ts';

const swabIn = { type: 'move', line: 'swab', from: 'table', to: 'patient/abdomen', n: 1 } as const;
const sealIn = { ...swabIn, line: 'seal' } as const;
const uterusClosed: readonly Done[] = [count('cavity'), { type: 'close', closure: 'uterus' }];
const whole: readonly Done[] = [...incised, ...specimenGone, ...closedUp];
const ended: readonly Done[] = [checkpoint('sign-out'), { type: 'finish' }];

const drainStays: readonly Done[] = [
  { type: 'add', line: 'drain', n: 1 },
  { type: 'move', line: 'drain', from: 'table', to: 'patient/abdomen', n: 1 },
  {
    type: 'move',
    line: 'drain',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
    reason: 'pus',
    where: 'pelvis',
  },
];
const handover = { type: 'handover', line: 'drain', to: 'ward', plan: 'out when dry' } as const;

test('[X1] asking to close gives yes, or is refused while anything holds', () => {
  const story = given(...incised);
  expect(story.state('uterus')).toBe('held');
  story.when({ type: 'close', closure: 'uterus' }).refused('held');
  const counted = story.when(count('cavity')).accepted();
  expect(counted.state('uterus')).toBe('clear');
  const closed = counted.when({ type: 'close', closure: 'uterus' }).accepted();
  expect(closed.state('uterus')).toBe('done');
  closed.when({ type: 'close', closure: 'uterus' }).refused('already-closed');
  story.when({ type: 'close', closure: 'knee' }).refused('unknown-closure');
});

test('[X1] sign out is a gate: it is not finished and the case not ended while anything holds', () => {
  const story = given(...incised, ...closedUp.slice(0, 2));
  story.when(checkpoint('sign-out')).refused('held');
  story.when({ type: 'finish' }).refused('held');
  story.when({ type: 'close', closure: 'sign-out' }).refused('held');
  given(...whole)
    .when({ type: 'finish' })
    .refused('checkpoint-open');
  expect(given(...whole).state('sign-out')).toBe('clear');
  expect(given(...whole, checkpoint('sign-out')).state('sign-out')).toBe('done');
});

test('[X2] a piece holds the closure of its site and every later one', () => {
  const inAbdomen = given(...incised, swabIn);
  expect(inAbdomen.about('uterus')).not.toContain('piece-inside swab');
  for (const gate of ['abdomen', 'skin', 'sign-out'])
    expect(inAbdomen.about(gate)).toContain('piece-inside swab');
  const inVagina = given(...incised, { ...swabIn, to: 'patient/vagina' });
  expect(inVagina.about('abdomen')).not.toContain('piece-inside swab');
  expect(inVagina.about('skin')).toContain('piece-inside swab');
});

test('[X2] a line that differs holds the first open closure whose count covers it', () => {
  const swab = given(...incised, count('final', { swab: { field: 4 } }));
  for (const gate of ['uterus', 'abdomen', 'skin', 'sign-out'])
    expect(swab.about(gate)).toContain('count-differs swab');
  const tray = given(...incised, count('final', { tray: { field: 2 } }));
  expect(tray.about('uterus')).not.toContain('count-differs tray'); // not counted there
  expect(tray.about('abdomen')).toContain('count-differs tray');
  const late = given(...incised, ...uterusClosed, count('closing', { swab: { field: 4 } }));
  expect(late.about('uterus')).not.toContain('count-differs swab'); // it was closed before
  expect(late.about('abdomen')).toContain('count-differs swab');
});

test('[X2] holds of sign out alone hold no closure', () => {
  const story = given(...incised, ...drainStays, ...specimenGone.slice(0, 4));
  expect(story.holds('skin')).not.toContain('handover-open');
  expect(story.holds('skin')).not.toContain('specimen-here');
  expect(story.holds('sign-out')).toContain('handover-open');
  expect(story.holds('sign-out')).toContain('specimen-here');
});

test('[X3] a line that differs asks for no other count, and holds once', () => {
  const story = given(...incised, ...uterusClosed, count('closing', { needle: { field: 1 } }));
  expect(story.about('abdomen')).not.toContain('count-due closing');
  expect(story.about('abdomen').filter((hold) => hold.endsWith(' needle'))).toEqual([
    'count-differs needle',
  ]);
  const open = story.when(recount({ needle: { field: 1 } })).accepted();
  expect(open.about('abdomen').filter((hold) => hold.endsWith(' needle'))).toEqual([
    'line-short needle',
  ]);
});

test('[X4] what the closure lists may be in use inside, and nothing else', () => {
  const ports = given(...incised, sealIn);
  expect(ports.about('abdomen')).not.toContain('piece-inside seal');
  expect(ports.about('skin')).toContain('piece-inside seal'); // nothing is in use at the last
  expect(ports.about('sign-out')).toContain('piece-inside seal');
  expect(given(...incised, swabIn).about('abdomen')).toContain('piece-inside swab');
});

test('[X4] in use is said of a site: the same line elsewhere holds', () => {
  const story = given(...incised, { ...sealIn, to: 'patient/uterus' });
  expect(story.about('uterus')).toContain('piece-inside seal');
});

test('[X4] a closure is made with its in-use lines inside, and they come out after', () => {
  const closed = given(
    ...incised,
    sealIn,
    specimenGone[0] ?? look('abdomen'),
    ...uterusClosed,
    look('abdomen'),
    count('closing'),
  )
    .when({ type: 'close', closure: 'abdomen' })
    .accepted();
  const out = closed
    .when({ type: 'move', line: 'seal', from: 'patient/abdomen', to: 'table', n: 1 })
    .accepted();
  expect(out.state('abdomen')).toBe('done');
});

test('[X5] the last look is asked before the closure, and again when the inside changes', () => {
  expect(given(...incised).about('abdomen')).toContain('look-open abdomen');
  const looked = given(...incised, swabIn, look('abdomen'));
  expect(looked.about('abdomen')).not.toContain('look-open abdomen');
  const out = { ...swabIn, from: 'patient/abdomen', to: 'off' } as const;
  expect(looked.when(out).accepted().about('abdomen')).toContain('look-open abdomen');
  const ports = given(...incised, sealIn, look('abdomen'));
  const portOut = { ...sealIn, from: 'patient/abdomen', to: 'table' } as const;
  expect(ports.when(portOut).accepted().about('abdomen')).not.toContain('look-open abdomen');
  const onTable = looked.when({ ...swabIn, to: 'off' }).accepted();
  expect(onTable.about('abdomen')).not.toContain('look-open abdomen');
});

test('[X6] a last look is answered in any order, and an answer that stops holds', () => {
  const one = { type: 'look', closure: 'abdomen', answers: { dry: 'dry' } } as const;
  const half = given(...incised, one);
  expect(half.about('abdomen')).toContain('look-open abdomen');
  const both = half.when({ ...one, answers: { seen: 'yes' } }).accepted();
  expect(both.about('abdomen')).not.toContain('look-open abdomen');
  const stops = both.when({ ...one, answers: { dry: 'bleeding' } }).accepted();
  expect(stops.about('abdomen')).toContain('look-open abdomen');
  half.when({ ...one, answers: { shoes: 'yes' } }).refused('unknown-step');
  half.when({ ...one, answers: { dry: 'moist' } }).refused('not-an-answer');
  half.when({ ...one, closure: 'knee' }).refused('unknown-closure');
});

test('[X7] closures are made in their order', () => {
  const story = given(...incised);
  expect(story.about('abdomen')).toContain('closure-order uterus');
  expect(story.about('sign-out')).toEqual(
    expect.arrayContaining(['closure-order uterus', 'closure-order abdomen', 'closure-order skin']),
  );
  expect(given(...incised, ...uterusClosed).about('abdomen')).not.toContain('closure-order uterus');
});

test('[X7] reopening a closure undoes it, the later ones, and sign out', () => {
  const story = given(...whole, checkpoint('sign-out'));
  story.when({ type: 'reopen', closure: 'abdomen', reason: '' }).refused('reason-missing');
  const open = story.when({ type: 'reopen', closure: 'abdomen', reason: 'bleeding' }).accepted();
  expect(open.state('uterus')).toBe('done');
  expect(open.state('abdomen')).not.toBe('done');
  expect(open.state('skin')).not.toBe('done');
  expect(open.state('sign-out')).toBe('held');
  expect(open.about('abdomen')).toContain('look-open abdomen');
  given(...incised)
    .when({ type: 'reopen', closure: 'skin', reason: 'x' })
    .refused('not-closed');
});

test('[X8] open until finished, then reconciled when nothing lasting happened', () => {
  expect(given(...whole, checkpoint('sign-out')).verdict()).toBe('open');
  expect(given(...whole, ...ended).verdict()).toBe('reconciled');
});

const endedAfter = (...done: readonly Done[]) =>
  given(...incised, ...specimenGone, ...done, ...closedUp, ...ended).verdict();

test('[X8] a drain as foreseen, a short tray and a settled discrepancy are reconciled', () => {
  expect(endedAfter(...drainStays, handover)).toBe('reconciled');
  const settled = [
    count('extra', { needle: { field: 1 } }),
    recount({ needle: { field: 1 } }),
    recount({ needle: 'usual' }),
    recount({ needle: 'usual' }),
  ];
  expect(endedAfter(...settled)).toBe('reconciled');
});

const packing: readonly Done[] = [
  { type: 'variant', to: 'open' },
  count('added'),
  { type: 'move', line: 'large-swab', from: 'table', to: 'patient/abdomen', n: 1 },
  { type: 'explain', line: 'large-swab', reason: 'bleeding', where: 'liver' },
  { ...handover, line: 'large-swab' },
];
const byDecision: readonly Done[] = [
  { type: 'move', line: 'needle', from: 'table', to: 'patient/abdomen', n: 1 },
  { type: 'explain', line: 'needle', reason: 'in bone', by: ['surgeon', 'scrub'] },
  { ...handover, line: 'needle' },
];
const searched: readonly Done[] = [
  { type: 'carriedIn', line: 'faecolith', n: 1, site: 'abdomen', from: 'imaging' },
  { type: 'searchedNone', line: 'faecolith', n: 1, site: 'abdomen', reason: 'not there' },
];
const amended: readonly Done[] = [
  count('extra', { needle: { field: 3 } }),
  recount({ needle: { field: 3 } }),
  {
    type: 'amend',
    line: 'needle',
    n: 1,
    reason: 'a packet held two',
    by: ['scrub', 'circulator', 'surgeon'],
  },
  recount({ needle: 'usual' }),
  recount({ needle: 'usual' }),
];

test.each<readonly [string, readonly Done[]]>([
  ['packing', packing],
  ['something left by decision', byDecision],
  ['searched and none found', searched],
  ['an amended baseline', amended],
])('[X8] %s is reconciled with a record', (_, done) => {
  expect(endedAfter(...done)).toBe('reconciled-with-record');
});

test('[X8] a step that stayed open in an emergency is reconciled with a record', () => {
  const open: readonly Done[] = [
    { type: 'beginCheckpoint', id: 'sign-in' },
    {
      type: 'answer',
      checkpoint: 'sign-in',
      step: 'marked',
      open: { name: 'surgeon', reason: 'bleeding' },
    },
    { type: 'answer', checkpoint: 'sign-in', step: 'sterility', value: 'fine' },
    { type: 'answer', checkpoint: 'sign-in', step: 'blood-loss', value: 50 },
    { type: 'finishCheckpoint', id: 'sign-in' },
  ];
  const story = given(...open, ...incised.slice(1), ...specimenGone, ...closedUp, ...ended);
  expect(story.verdict()).toBe('reconciled-with-record');
});

const film = {
  type: 'xray',
  wholeField: true,
  result: 'nothing-seen',
  readBy: 'Doctor R',
} as const;
test('[X8] a waived count is not reconciled, film or not', () => {
  const story = given(
    ...incised,
    ...specimenGone,
    count('cavity'),
    { type: 'close', closure: 'uterus' },
    look('abdomen'),
    { type: 'waive', moment: 'closing', reason: 'unstable', by: ['surgeon', 'scrub'] },
    { type: 'close', closure: 'abdomen' },
    count('final'),
    { type: 'close', closure: 'skin' },
    film,
    ...ended,
  );
  expect(story.verdict()).toBe('not-reconciled');
});

test('[X8] declared missing is not reconciled; found after the case, it is', () => {
  const lost: readonly Done[] = [
    count('extra', { needle: { field: 1 } }),
    recount({ needle: { field: 1 } }),
    { type: 'discrepancy', line: 'needle', step: 'surgeon-told', by: 'surgeon' },
    { type: 'discrepancy', line: 'needle', step: 'record-read', by: 'scrub' },
    { type: 'discrepancy', line: 'needle', step: 'field-searched', by: 'surgeon' },
    { type: 'discrepancy', line: 'needle', step: 'room-searched', by: 'circulator' },
    { ...film, line: 'needle' },
    { type: 'declare', line: 'needle', n: 1, reason: 'not found', by: ['surgeon', 'scrub'] },
  ];
  const story = given(...incised, ...specimenGone, ...lost, ...closedUp, ...ended);
  expect(story.verdict()).toBe('not-reconciled');
  const found = story
    .when({ type: 'discrepancy', line: 'needle', step: 'found', place: 'off' })
    .accepted();
  expect(found.verdict()).toBe('reconciled');
});

test('[X8] after the case only a film, a note or a found piece is taken', () => {
  const story = given(...whole, ...ended);
  story.when(swabIn).refused('case-finished');
  story.when({ type: 'correct', last: 1 }).refused('case-finished');
  story.when(film).accepted();
  story.when({ type: 'note', text: 'linen returned' }).accepted();
});

test('[X9] what stays for a reason is handed over before the patient leaves', () => {
  const story = given(...incised, ...drainStays);
  expect(story.about('sign-out')).toContain('handover-open drain');
  story.when({ ...handover, to: '' }).refused('name-missing');
  story.when({ ...handover, plan: '' }).refused('reason-missing');
  story.when({ ...handover, line: 'needle' }).refused('not-enough');
  expect(story.when(handover).accepted().about('sign-out')).not.toContain('handover-open drain');
});

test('[X9] neither a knot nor an implant with its lot number is handed over', () => {
  const implant: readonly Done[] = [
    { type: 'add', line: 'implant', n: 1 },
    { type: 'move', line: 'implant', from: 'table', to: 'patient/abdomen', n: 1 },
    { type: 'explain', line: 'implant', lot: 'LOT-1' },
  ];
  expect(given(...incised, ...implant).holds('sign-out')).not.toContain('handover-open');
});

test('[X9] more that is left after the handover is handed over again', () => {
  const story = given(...incised, ...drainStays, handover, ...drainStays);
  expect(story.about('sign-out')).toContain('handover-open drain');
});

test('[X10] the same id twice is recorded once', () => {
  const { current } = given(...incised);
  const context = { at: '2026-01-05T08:00:00+00:00', by: 'Prueba', id: 'tap' };
  const first = decide(current, swabIn, context);
  if (!first.ok) throw new Error(first.refusal.code);
  const next = first.events.reduce(evolve, current);
  expect(decide(next, swabIn, context)).toEqual({ ok: true, events: [], warnings: [] });
});

test('[X10] the same case, command and context give the same answer, and change nothing', () => {
  const { current } = given(...incised);
  const before = structuredClone(current);
  const context = { at: '2026-01-05T08:00:00+00:00', by: 'Prueba', id: 'tap' };
  expect(decide(current, swabIn, context)).toEqual(decide(current, swabIn, context));
  expect(current).toEqual(before);
});

test('[X10] a record that cannot be replayed stops before the row that does not fit', () => {
  const { current } = given(...incised);
  const stamp = { entry: 1, id: 'x', at: current.startedAt, by: 'Prueba' };
  const opened = {
    type: 'opened',
    caseId: 'one',
    sheet: current.sheet,
    patient: current.patient,
    team: current.team,
    variants: {},
    practice: false,
    ...stamp,
  } as const;
  const lost = { type: 'finished', ...stamp, entry: 0 } as const;
  expect(replay([{ events: [opened] }, { events: [lost] }])).toMatchObject({ ok: false, row: 2 });
  expect(replay([])).toMatchObject({ ok: false, current: undefined });
});
