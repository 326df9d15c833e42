import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import { redosesOf } from '#engine/case/redosesOf.ts';
import { computedOf } from '#engine/checkpoints/computedOf.ts';
import { bestDose, dueAfter, lastDoses, redoseDueAt } from '#engine/checkpoints/prophylaxis.ts';
import type { ComputedFrom, Medicine, Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import {
  count,
  type Done,
  given,
  givenOn,
  incised,
  recount,
  specimenGone,
  wait,
} from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

/** Steps that take their answer from the case: what satisfies them, and in which words. */

const now = '2026-01-05T08:00:00+00:00';
const both = ['surgeon', 'scrub'];
const waive = (moment: 'first' | 'closing'): Done => ({
  type: 'waive',
  moment,
  reason: 'bleeding',
  by: both,
});
/** Every count that a closure of the story asks for. */
const counted: readonly Done[] = [count('cavity'), count('closing'), count('final')];
const short = { needle: { field: 1 }, swab: { field: 4 } };
const swabOut: Done = { type: 'move', line: 'swab', from: 'table', to: 'patient/abdomen', n: 1 };
const loopAdded: Done = { type: 'add', line: 'loop', n: 1 };
const step = (name: 'surgeon-told' | 'record-read' | 'field-searched' | 'room-searched' | 'xray') =>
  ({ type: 'discrepancy', line: 'needle', step: name, skip: 'no time', by: 'surgeon' }) as const;
const declared: readonly Done[] = [
  ...incised,
  count('closing', { needle: { field: 1 } }),
  recount({ needle: { field: 1 } }),
  step('surgeon-told'),
  step('record-read'),
  step('field-searched'),
  step('room-searched'),
  step('xray'),
  { type: 'declare', line: 'needle', n: 1, reason: 'not found', by: both },
  count('final'),
];
const searchedNone: readonly Done[] = [
  ...incised,
  { type: 'carriedIn', line: 'faecolith', n: 1, site: 'abdomen', from: 'imaging' },
  { type: 'searchedNone', line: 'faecolith', n: 1, site: 'abdomen', reason: 'not felt' },
  ...counted,
];
const linesOf = (...done: readonly Done[]) =>
  given(...done).current.counts.history.at(-1)?.lines ?? 0;
const allAgree = (...done: readonly Done[]): string => `All lines agree, ${linesOf(...done)} lines`;
const converted: readonly Done[] = [
  ...incised,
  { type: 'variant', to: 'open' },
  count('added'),
  ...counted,
];
const node: readonly Done[] = [
  { type: 'specimen', id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
  { type: 'specimen', id: 'node', step: 'taken' },
];
const lumpTo = (steps: number): readonly Done[] => [...incised, ...specimenGone.slice(0, steps)];
const drainStays: readonly Done[] = [
  ...incised,
  { type: 'add', line: 'drain', n: 2 },
  { type: 'move', line: 'drain', from: 'table', to: 'stays', n: 2 },
];
const drainExplained: readonly Done[] = [
  ...drainStays,
  { type: 'explain', line: 'drain', reason: 'pus', where: 'pelvis' },
];
const loopPlaced: readonly Done[] = [
  { type: 'add', line: 'loop', n: 1 },
  { type: 'move', line: 'loop', from: 'table', to: 'patient/abdomen', n: 1 },
  { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
];

test.each<readonly [ComputedFrom, boolean, string, readonly Done[]]>([
  ['first-count', false, 'The first count is not agreed', []],
  ['first-count', true, 'Agreed by Testa and Prueba', [count('first')]],
  ['first-count', true, 'Waived: an X-ray is owed', [waive('first')]],
  ['counts', false, 'No count since the first', []],
  ['counts', false, 'No count since the first', incised],
  ['counts', false, 'A count is running', [...incised, { type: 'beginCount', moment: 'closing' }]],
  ['counts', false, '2 not agreed', [...incised, count('closing', short)]],
  [
    'counts',
    false,
    'A relief count is due',
    [...incised, count('closing'), { type: 'relief', role: 'scrub', to: 'Nuovo' }],
  ],
  ['counts', false, 'The last count is stale', [...incised, count('closing'), swabOut]],
  ['counts', false, 'cavity count not done', [...incised, count('closing'), count('final')]],
  ['counts', false, 'closing count not done', [...incised, count('cavity'), count('extra')]],
  ['counts', false, 'final count not done', [...incised, count('cavity'), count('closing')]],
  [
    'counts',
    false,
    'cavity count out of date',
    [...incised, count('cavity'), loopAdded, count('closing'), count('final')],
  ],
  ['counts', true, 'Not reconciled: 1 declared missing', [...declared, ...counted]],
  [
    'counts',
    true,
    'Not reconciled: a count was waived',
    [...incised, count('cavity'), count('final'), waive('closing')],
  ],
  ['counts', true, allAgree(...incised, ...counted), [...incised, ...counted]],
  ['counts', true, allAgree(...searchedNone), searchedNone],
  ['counts', true, allAgree(...converted), converted],
  ['specimens', false, 'A Lump is not labelled and read back', incised],
  [
    'specimens',
    true,
    'None taken',
    [...incised, { type: 'specimen', id: 'lump', step: 'notTaken', reason: 'adherent' }],
  ],
  ['specimens', false, 'A Lump is not labelled and read back', lumpTo(3)],
  ['specimens', true, 'A Lump', lumpTo(4)],
  ['specimens', true, 'A Lump', lumpTo(5)],
  ['specimens', false, 'B Node is not labelled and read back', [...lumpTo(5), ...node]],
  [
    'specimens',
    true,
    'A Lump, B Node',
    [
      ...lumpTo(5),
      ...node,
      { type: 'specimen', id: 'node', step: 'contained', pot: '2' },
      { type: 'specimen', id: 'node', step: 'labelled', label: 'usual' },
      { type: 'specimen', id: 'node', step: 'readBack', by: 'scrub' },
    ],
  ],
  ['left', true, 'Nothing stays', incised],
  ['left', false, 'drain stays without a reason', drainStays],
  ['left', true, '2 drain', drainExplained],
  ['left', true, '2 drain, 1 ligature', [...drainExplained, ...loopPlaced]],
])('[K5] %s is satisfied (%s): %s', (from, ok, words, done) => {
  expect(computedOf(given(...done).current, from, now)).toEqual({ ok, words });
});

test('[K5] what no step can be taken from is a fault', () => {
  const strange = JSON.parse('"mood"');
  expect(() => computedOf(given().current, strange, now)).toThrow(Fault);
});

const medicine = (id: string, windowMinutes: number, redoseHours: number | null): Medicine => ({
  id,
  name: id.slice(0, 1).toUpperCase() + id.slice(1),
  windowMinutes,
  redoseHours,
  source: 'made up for tests',
});
const medicines = [
  medicine('cefuroxime', 60, 4),
  medicine('vancomycin', 120, null),
  medicine('quickly', 60, 2),
];
const sheet: Sheet = { ...storySheet, medicines };

const dose = (agent: string, time: string, mg?: number): Done => ({
  type: 'dose',
  agent,
  at: `2026-01-05T${time}:00+00:00`,
  ...(mg === undefined ? {} : { mg }),
});
const told = (...done: readonly Done[]) =>
  computedOf(givenOn(sheet, ...done).current, 'prophylaxis', now);

/** The same as `incised`, at 08:00, without a dose. */
const cut: readonly Done[] = incised.map((one) =>
  'type' in one && one.type === 'dose' ? wait(0) : one,
);
const withoutDose: readonly Done[] = cut.flatMap((one): readonly Done[] =>
  'kind' in one && one.kind === 'checkpoint' && one.id === 'time-out'
    ? [{ ...one, answers: { antibiotic: { kind: 'notApplicable', reason: 'local' } } }]
    : [one],
);

test.each<readonly [boolean, string, readonly Done[]]>([
  [false, 'No dose recorded', []],
  [true, 'Cefuroxime at 07:40, 20 min before', [dose('cefuroxime', '07:40')]],
  [true, 'Cefuroxime at 07:00, 60 min before', [dose('cefuroxime', '07:00')]],
  [false, 'Cefuroxime at 06:59, 61 min before: outside 60 min', [dose('cefuroxime', '06:59')]],
  [
    true,
    'Cefuroxime at 07:40, 20 min before; Vancomycin at 06:10, 110 min before',
    [dose('cefuroxime', '07:40'), dose('vancomycin', '06:10')],
  ],
  [
    false,
    'Vancomycin at 05:50, 130 min before: outside 120 min',
    [dose('vancomycin', '05:50'), dose('cefuroxime', '07:40')],
  ],
  [
    true,
    'Cefuroxime at 07:40, 20 min before',
    [dose('cefuroxime', '07:40'), dose('cefuroxime', '06:00')],
  ],
  [
    true,
    'Cefuroxime at 07:50, 10 min before',
    [dose('cefuroxime', '06:00'), dose('cefuroxime', '07:50')],
  ],
  [
    true,
    'Cefuroxime at 07:30, 30 min before',
    [dose('cefuroxime', '07:50'), dose('cefuroxime', '07:30')],
  ],
  [
    false,
    'Cefuroxime at 08:09, after incision',
    [...withoutDose, wait(9), dose('cefuroxime', '08:09')],
  ],
  [
    true,
    'Cefuroxime at 08:00, 0 min before',
    [...incised, wait(9), dose('vancomycin', '08:09'), dose('cefuroxime', '08:09')],
  ],
])('[K8] [K11] the prophylaxis is in its window (%s): %s', (ok, words, done) => {
  expect(told(...done)).toEqual({ ok, words });
});

test('[K8] a medicine that the sheet does not name has no window, and no time for another dose', () => {
  const { current } = givenOn(sheet);
  const water = { agent: 'water', mg: undefined, at: now };
  const given_: Case = { ...current, doses: [water] };
  expect(computedOf(given_, 'prophylaxis', now)).toEqual({
    ok: false,
    words: 'water at 08:00: the sheet has no window for it',
  });
  expect(bestDose(given_, now)?.window).toEqual({
    state: 'unknown-agent',
    minutes: 0,
    windowMinutes: undefined,
  });
  expect(dueAfter(given_, water)).toBeUndefined();
});

test('[K11] of several doses the one that decides is the first outside, else the last before', () => {
  const best = (...done: readonly Done[]) => {
    const stood = bestDose(givenOn(sheet, ...done).current, now);
    return stood && [stood.dose.agent, stood.window.state, stood.window.windowMinutes];
  };
  expect(best()).toBeUndefined();
  expect(best(dose('cefuroxime', '07:40'), dose('quickly', '07:50'))).toEqual([
    'quickly',
    'in-window',
    60,
  ]);
  expect(best(dose('cefuroxime', '06:40'), dose('quickly', '06:50'))).toEqual([
    'cefuroxime',
    'too-early',
    60,
  ]);
  const late = [wait(9), dose('cefuroxime', '08:05'), dose('quickly', '08:06')];
  expect(best(...late)).toEqual(['quickly', 'late', 60]);
  expect(best(...late, dose('vancomycin', '07:00'))).toEqual(['vancomycin', 'in-window', 120]);
});

test('[K9] the latest dose is the one that was started last, not the one recorded last', () => {
  const last = (...done: readonly Done[]) =>
    lastDoses(givenOn(sheet, ...done).current).map(({ agent, at, mg }) => [
      agent,
      at.slice(11, 16),
      mg,
    ]);
  expect(
    last(
      dose('cefuroxime', '07:50', 750),
      dose('quickly', '07:00'),
      dose('cefuroxime', '07:10', 1500),
    ),
  ).toEqual([
    ['cefuroxime', '07:50', 750],
    ['quickly', '07:00', undefined],
  ]);
  expect(last(dose('cefuroxime', '07:10', 750), dose('cefuroxime', '07:50', 1500))).toEqual([
    ['cefuroxime', '07:50', 1500],
  ]);
  expect(last(dose('cefuroxime', '07:10', 750), dose('cefuroxime', '07:10', 1500))).toEqual([
    ['cefuroxime', '07:10', 1500],
  ]);
});

test('[K11] of several medicines the earliest that is due is said', () => {
  const due = (...done: readonly Done[]) => redoseDueAt(givenOn(sheet, ...done).current);
  expect(due(dose('cefuroxime', '07:00'), dose('quickly', '07:30'))).toBe(
    '2026-01-05T09:30:00.000Z',
  );
  expect(due(dose('quickly', '07:30'), dose('cefuroxime', '05:00'))).toBe(
    '2026-01-05T09:00:00.000Z',
  );
});

const bled = (ml: number): Done => ({ type: 'fluid', kind: 'suction', ml });

test('[K12] more blood lost than the policy says asks for a dose before its time', () => {
  const redoses = (...done: readonly Done[]) => redosesOf(givenOn(sheet, ...done).current);
  const first = dose('cefuroxime', '08:00');
  const timed = { agent: 'cefuroxime', state: 'timed', dueAt: '2026-01-05T12:00:00.000Z' };
  expect(redoses()).toEqual([]);
  expect(redoses(first)).toEqual([timed]);
  expect(redoses(first, wait(5), bled(1500))).toEqual([timed]);
  expect(redoses(first, wait(5), bled(1501))).toEqual([
    { agent: 'cefuroxime', state: 'bled', lossMl: 1501 },
  ]);
  expect(redoses(bled(1600), wait(5), dose('cefuroxime', '08:05'))).toMatchObject([
    { state: 'timed' },
  ]);
});

test('[K9] a medicine without an interval has no time, however much blood is lost', () => {
  const { current } = givenOn(sheet, dose('vancomycin', '08:00'), wait(5), bled(3000));
  expect(redosesOf(current)).toEqual([
    {
      agent: 'vancomycin',
      state: 'untimed',
      sentence: 'The table gives no second dose of it. A very long case may need one: ask.',
    },
  ]);
});
