import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import { saidBeside } from '#engine/case/saidBeside.ts';
import type { WarningCode } from '#engine/warnings.ts';
import { warnings } from '#engine/warnings.ts';
import {
  checkpoint,
  closedUp,
  count,
  type Done,
  given,
  incised,
  recount,
  specimenGone,
  wait,
} from '../support/given.ts';

/** What is said beside an entry because of the case as it stands. Nothing is held by it. */

const begin: Done = { type: 'beginCount', moment: 'closing' };
const enter: Done = { type: 'enter', line: 'swab', field: 5 };
const note: Done = { type: 'note', text: 'a pause' };
const loop: Done = { type: 'add', line: 'loop', n: 1 };
const relief = { type: 'relief', role: 'scrub', to: 'Nuovo' } as const;
const both = ['surgeon', 'scrub'];
const taken: Done = { type: 'specimen', id: 'lump', step: 'taken' };
const others: readonly Done[] = [
  { type: 'enter', line: 'needle', field: 2 },
  { type: 'enter', line: 'seal', field: 2 },
  { type: 'enter', line: 'tray', field: 3 },
];
const ended = (...between: readonly Done[]): readonly Done[] => [
  ...incised,
  ...specimenGone,
  ...between,
  ...closedUp,
  checkpoint('sign-out'),
];

/** Everything up to the closure of the skin. */
const toTheLast: readonly Done[] = [...incised, ...specimenGone, ...closedUp.slice(0, -1)];

test.each<readonly [string, readonly WarningCode[], readonly Done[], Done]>([
  ['a clock that went back', ['clock-back'], [...incised, wait(-1)], note],
  ['a clock that stood still', [], incised, note],
  ['a count after more than half an hour', ['patient-again'], [...incised, wait(31)], begin],
  ['a count after half an hour', [], [...incised, wait(30)], begin],
  ['something else after an hour', [], [...incised, wait(60)], note],
  [
    'a count that stood for more than three minutes',
    ['count-paused'],
    [...incised, begin, wait(4)],
    enter,
  ],
  ['a count that stood for three minutes', [], [...incised, begin, wait(3)], enter],
  [
    'agreeing after a pause',
    ['count-paused'],
    [...incised, begin, enter, ...others, wait(4)],
    { type: 'agree' },
  ],
  ['something else while a count stands', [], [...incised, begin, wait(4)], note],
  [
    'breaking off after a pause',
    [],
    [...incised, begin, wait(4)],
    { type: 'abandon', reason: 'x' },
  ],
  ['what voids a running count', ['count-voided'], [...incised, begin], loop],
  ['the same while none runs', [], incised, loop],
  ['what does not void it', [], [...incised, begin], note],
  ['the end of a running count', [], [...incised, begin, enter, ...others], { type: 'agree' }],
  ['breaking it off', [], [...incised, begin], { type: 'abandon', reason: 'x' }],
  [
    'leaving it out',
    [],
    [...incised, begin],
    { type: 'waive', moment: 'closing', reason: 'bleeding', by: both },
  ],
  [
    'a relief of the scrub while tissue lies about',
    ['tissue-on-table'],
    [...incised, taken],
    relief,
  ],
  [
    'a relief of the circulator',
    ['tissue-on-table'],
    [...incised, taken],
    { ...relief, role: 'circulator', to: 'Uno' },
  ],
  ['a relief of the surgeon', [], [...incised, taken], { ...relief, role: 'surgeon', to: 'Uno' }],
  ['a relief while no tissue is out', [], incised, relief],
  [
    'a relief when it is in its pot',
    [],
    [...incised, taken, { type: 'specimen', id: 'lump', step: 'contained', pot: '1' }],
    relief,
  ],
  [
    'a relief when one of two is in its pot',
    ['tissue-on-table'],
    [
      ...incised,
      taken,
      { type: 'specimen', id: 'lump', step: 'contained', pot: '1' },
      { type: 'specimen', id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
      { type: 'specimen', id: 'node', step: 'taken' },
    ],
    relief,
  ],
  ['something else while tissue lies about', [], [...incised, taken], note],
  ['an end without trouble', [], ended(), { type: 'finish' }],
  [
    'an end after a line that did not agree',
    ['near-miss'],
    ended(
      count('extra', { swab: { field: 4 } }),
      recount({ swab: 'usual' }),
      recount({ swab: 'usual' }),
    ),
    { type: 'finish' },
  ],
  [
    'something else after it',
    [],
    [
      ...incised,
      count('extra', { swab: { field: 4 } }),
      recount({ swab: 'usual' }),
      recount({ swab: 'usual' }),
    ],
    note,
  ],
])('[C10] [X10] beside %s is said: %j', (_, said, done, last) => {
  expect(
    given(...done)
      .when(last)
      .said(),
  ).toEqual(said);
});

test('[X14] as the last closure is made, and then alone, sign out is said to come next', () => {
  const skin: Done = { type: 'close', closure: 'skin' };
  const saidAt = (done: readonly Done[], last: Done) =>
    given(...done)
      .when(last)
      .said();
  expect(saidAt(toTheLast, skin)).toEqual(['sign-out-next']);
  expect(saidAt(toTheLast.slice(0, -2), { type: 'close', closure: 'abdomen' })).toEqual([]);
  expect(saidAt([...toTheLast, skin], note)).toEqual([]);
  // Opened again and closed again, it is to be read again.
  const again: readonly Done[] = [
    ...[...toTheLast, skin, checkpoint('sign-out')],
    { type: 'reopen', closure: 'skin', reason: 'bleeding' },
  ];
  expect(saidAt(again, skin)).toEqual(['sign-out-next']);
});

test('[X10] beside nothing nothing is said', () => {
  expect(saidBeside(given(wait(-5)).current, [], { at: 'x', by: 'x', id: 'x' })).toEqual([]);
});

test('[X10] everything that can be said beside an entry is a sentence or two', () => {
  for (const sentence of Object.values(warnings)) {
    expect(sentence).toMatch(/^[A-Z].*[.?]$|^[A-Z].*[.?] /);
    expect(sentence.length).toBeGreaterThan(30);
  }
});

test('[X10] a fault is called one, and says what was not handled', () => {
  const fault = new Fault('x');
  expect(fault.name).toBe('Fault');
  expect(fault).toBeInstanceOf(Error);
});
