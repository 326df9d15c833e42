import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Case } from '#engine/state.ts';
import { count, type Done, given, incised } from '../support/given.ts';

/** Refusals that no other story meets, and entries that are taken back to exactly what stood before. */

const by = ['surgeon', 'scrub'];
const waive = { type: 'waive', moment: 'closing', reason: 'unstable', by } as const;
const loop: Done = { type: 'add', line: 'loop', n: 2 };
const loopIn: Done = { type: 'move', line: 'loop', from: 'table', to: 'patient/abdomen', n: 1 };
const turn = { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 } as const;
const broken = { type: 'break', line: 'needle', at: 'table', into: 2 } as const;
const none = {
  type: 'searchedNone',
  line: 'faecolith',
  n: 1,
  site: 'abdomen',
  reason: 'none',
} as const;

test.each<readonly [string, RefusalCode, readonly Done[], Command]>([
  ['[C11] a moment without a count', 'unknown-moment', incised, { ...waive, moment: 'added' }],
  ['[C11] a count anyone asked for', 'unknown-moment', incised, { ...waive, moment: 'extra' }],
  ['[C11] a first count agreed', 'already-counted', incised, { ...waive, moment: 'first' }],
  [
    '[C11] a first count waived before',
    'count-waived',
    [{ ...waive, moment: 'first' }],
    { ...waive, moment: 'first' },
  ],
  ['[C11] a later count before the first', 'baseline-open', [], waive],
  ['[L10] a turn of a line not known', 'unknown-line', incised, { ...turn, line: 'mop' }],
  ['[L10] a turn at a place not known', 'unknown-place', [...incised, loop], { ...turn, at: 'x' }],
  ['[L11] a break of a line not known', 'unknown-line', incised, { ...broken, line: 'mop' }],
  ['[L11] a break of a counted swab', 'not-cuttable', incised, { ...broken, line: 'swab' }],
  ['[L8] a search for less than one', 'not-a-quantity', incised, { ...none, n: 0 }],
  ['[L8] a search in a site not known', 'unknown-site', incised, { ...none, site: 'knee' }],
])('%s is refused as %s', (_, code, done, command) => {
  given(...done)
    .when(command)
    .refused(code);
});

const toAbdomen: Done = { type: 'move', line: 'drain', from: 'table', to: 'patient/abdomen', n: 2 };
const stay = (n: number): Command => ({
  type: 'move',
  line: 'drain',
  from: 'patient/abdomen',
  to: 'stays',
  n,
});
const out: Command = { type: 'move', line: 'drain', from: 'stays', to: 'patient/abdomen', n: 1 };
const away = { type: 'move', line: 'needle', from: 'table', to: 'away', n: 1, with: 'A' } as const;
const back = { type: 'move', line: 'needle', from: 'away', to: 'table', n: 1 } as const;
const carried = {
  type: 'carriedIn',
  line: 'faecolith',
  n: 1,
  site: 'abdomen',
  from: 'imaging',
} as const;
const drains: readonly Done[] = [...incised, { type: 'add', line: 'drain', n: 2 }, toAbdomen];

/** What the case says of pieces, beside the log and the numbers of entries. */
const pieces = ({ ledger, left, away: gone, missing, carried: brought, fragments }: Case) => ({
  blocks: ledger.blocks,
  left,
  gone,
  missing,
  brought,
  fragments,
});

test.each<readonly [string, readonly Done[], Command]>([
  ['a piece that stays', drains, stay(1)],
  ['a second piece that stays', [...drains, stay(1)], stay(1)],
  ['a piece that stayed and came out', [...drains, stay(2)], out],
  [
    'an explanation',
    [...drains, stay(1)],
    { type: 'explain', line: 'drain', reason: 'pus', where: 'pelvis' },
  ],
  ['a piece that is away', incised, away],
  ['a piece that came back', [...incised, away, away], back],
  ['a piece that was carried in', incised, carried],
  ['a search that showed none', [...incised, carried], none],
  ['a turn', [...incised, loop, loopIn], turn],
])('[L12] %s is taken back to what stood before', (_, done, command) => {
  const before = given(...done);
  const made = before.when(command).accepted();
  const undone = made.when({ type: 'correct', last: 1 }).accepted();
  expect(pieces(undone.current)).toEqual(pieces(before.current));
});

test('[L5] of what is away with several people the last that went comes back first', () => {
  const story = given(...incised, { ...away, n: 1 }, { ...away, with: 'B' }, back);
  expect(story.current.away).toMatchObject([{ line: 'needle', n: 1, with: 'A' }]);
  const two = given(...incised, { ...away, n: 2 }, back);
  expect(two.current.away).toMatchObject([{ line: 'needle', n: 1, with: 'A' }]);
});

test('[L9] of what stays the last that was left comes out first', () => {
  const first = { ...stay(1), reason: 'pus', where: 'pelvis' };
  expect(given(...drains, first, stay(1), out).current.left.drain).toMatchObject([
    { n: 1, reason: 'pus' },
  ]);
  expect(given(...drains, stay(2), out).current.left.drain).toMatchObject([{ n: 1 }]);
});

test('[C9] reliefs are kept in order, and a count of all is in the history', () => {
  const relief: Done = { type: 'relief', role: 'scrub', to: 'Nuovo' };
  const { counts } = given(...incised, count('closing'), relief).current;
  expect(counts.reliefs).toMatchObject([{ role: 'scrub', from: 'Testa', to: 'Nuovo' }]);
  expect(counts.history.map((one) => one.moment)).toEqual(['first', 'closing']);
});
