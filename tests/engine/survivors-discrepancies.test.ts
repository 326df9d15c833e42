import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import type { Command } from '#engine/case/events.ts';
import { decideCounts } from '#engine/counts/decide.ts';
import { evolveCounts } from '#engine/counts/evolve.ts';
import { decideDiscrepancies } from '#engine/discrepancies/decide.ts';
import { evolveDiscrepancies } from '#engine/discrepancies/evolve.ts';
import { evolveMoves } from '#engine/moves/evolve.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Case } from '#engine/state.ts';
import { count, type Done, given, incised, recount } from '../support/given.ts';

/** Corners of discrepancies and counts: refusals, several pieces, and steps that are taken back. */

const at = '2026-01-05T08:00:00+00:00';
const by = ['surgeon', 'scrub'];
const seen = (field: number): Done => count('extra', { swab: { field } });
const short: readonly Done[] = [...incised, seen(3), recount({ swab: { field: 3 } })];
const step = (name: 'surgeon-told' | 'record-read' | 'field-searched' | 'room-searched') =>
  ({ type: 'discrepancy', line: 'swab', step: name, by: 'surgeon' }) as const;
const wholeFilm = {
  type: 'xray',
  wholeField: true,
  result: 'nothing-seen',
  readBy: 'R',
} as const;
const film = { ...wholeFilm, line: 'swab' } as const;
const searched: readonly Done[] = [
  ...short,
  step('surgeon-told'),
  step('record-read'),
  step('field-searched'),
  step('room-searched'),
  film,
];
const declare = { type: 'declare', line: 'swab', n: 2, reason: 'not found', by } as const;
const found = { type: 'discrepancy', line: 'swab', step: 'found', place: 'off' } as const;
const amend = {
  type: 'amend',
  line: 'swab',
  n: 1,
  reason: 'x',
  by: [...by, 'circulator'],
} as const;
const abandon = { type: 'abandon', reason: 'alarm' } as const;
const begin = { type: 'beginCount', moment: 'closing' } as const;

test.each<readonly [string, RefusalCode, readonly Done[], Command]>([
  ['[D1] a step by nobody', 'name-missing', short, { ...step('record-read'), by: ' ' }],
  ['[D1] a film without its reader', 'name-missing', short, { ...found, step: 'xray' }],
  ['[D3] found at no place', 'unknown-place', short, { ...found, place: 'knee' }],
  ['[D3] found from no place', 'unknown-place', short, { ...found, from: 'knee' }],
  ['[D3] found less than one', 'not-a-quantity', short, { ...found, n: 0 }],
  ['[D3] found in the supply', 'not-a-move', short, { ...found, place: 'supply' }],
  ['[D3] found from what stays', 'not-a-move', short, { ...found, from: 'stays' }],
  ['[D3] more found than there are', 'not-enough', short, { ...found, from: 'table', n: 9 }],
  ['[D4] a line not known declared', 'unknown-line', searched, { ...declare, line: 'mop' }],
  ['[D4] declared from no place', 'unknown-place', searched, { ...declare, from: 'knee' }],
  ['[D4] less than one declared', 'not-a-quantity', searched, { ...declare, n: 0 }],
  ['[D4] declared by nobody', 'surgeon-missing', searched, { ...declare, by: [] }],
  ['[D4] declared from what stays', 'not-a-move', searched, { ...declare, from: 'stays' }],
  ['[D5] a line not known amended', 'unknown-line', short, { ...amend, line: 'mop' }],
  ['[D7] a film of a line not known', 'unknown-line', short, { ...film, line: 'mop' }],
  ['[C10] leaving off no count', 'no-count', incised, abandon],
  ['[C1] a count by nobody', 'name-missing', incised, { ...begin, scrub: '' }],
  ['[C1] a count with nobody', 'name-missing', incised, { ...begin, circulator: '' }],
  [
    '[C2] seeing a line not known',
    'unknown-line',
    incised,
    { type: 'enter', line: 'mop', field: 1 },
  ],
  [
    '[C8] a recount while a count runs',
    'count-running',
    [...short, begin],
    { type: 'recount', lines: { swab: { field: 5 } } },
  ],
])('%s is refused as %s', (_, code, done, command) => {
  given(...done)
    .when(command)
    .refused(code);
});

test.each<readonly [string, Omit<Extract<Command, { type: 'enter' }>, 'type' | 'line'>]>([
  ['a pack of less than nothing', { packs: [5, -1] }],
  ['a hundred packs', { packs: new Array<number>(100).fill(1) }],
  ['too many off the field', { packs: [5], off: 1000 }],
  ['too many in packs', { packs: [999, 1] }],
  ['nothing said', {}],
])('[C2] %s is not a count', (_, said) => {
  given(...incised, begin)
    .when({ type: 'enter', line: 'swab', ...said })
    .refused('not-a-count');
});

test('[C2] ninety-nine packs can be seen', () => {
  given({ type: 'beginCount', moment: 'first' })
    .when({ type: 'enter', line: 'swab', packs: new Array<number>(99).fill(5) })
    .accepted();
});

const open = ({ ledger, differing, missing, xrays, settled }: Case) => ({
  blocks: ledger.blocks,
  differing,
  missing,
  xrays,
  settled,
});

test.each<readonly [string, readonly Done[], Command]>([
  ['a step', short, step('surgeon-told')],
  ['a second step', [...short, step('surgeon-told')], step('record-read')],
  ['a piece that was found', short, found],
  ['a film of the line', short, film],
  ['a film of the whole field', short, wholeFilm],
  ['a declared piece that was found', [...searched, declare], found],
])('[L12] %s is taken back to what stood before', (_, done, command) => {
  const before = given(...done);
  const undone = before.when(command).accepted().when({ type: 'correct', last: 1 }).accepted();
  expect(open(undone.current)).toEqual(open(before.current));
});

test('[D1] each step is kept with who did it, or why not', () => {
  const skipped = { ...step('record-read'), skip: 'no time' } as const;
  const { current } = given(...short, step('surgeon-told'), skipped, film);
  expect(current.differing.swab?.steps).toEqual({
    'surgeon-told': { by: 'Ensayo', at },
    'record-read': { by: 'Ensayo', at, skipped: 'no time' },
    xray: { by: 'R', at },
  });
  expect(current.xrays).toMatchObject([{ line: 'swab', readBy: 'R', result: 'nothing-seen' }]);
  expect(current.log).toMatchObject({ type: 'xrayRead', subject: 'swab' });
});

test('[D7] a film of part of the field, or of no line, is no step of a discrepancy', () => {
  const part = given(...short, { ...film, wholeField: false });
  expect(part.current.differing.swab?.steps).toEqual({});
  const whole = given(...short, wholeFilm);
  expect(whole.current.differing.swab?.steps).toEqual({});
  expect(whole.current.log).toMatchObject({ subject: '' });
  expect(Object.keys(whole.current.xrays[0] ?? {})).not.toContain('line');
});

test('[D4] one of two declared leaves the other open', () => {
  const one = given(...searched, { ...declare, n: 1 });
  expect(one.current.differing.swab).toMatchObject({ difference: -1, expected: 4 });
  expect(one.about('uterus')).toContain('line-short swab');
  const both = one.when({ ...declare, n: 1 }).accepted();
  expect(both.current.differing).toEqual({});
  expect(both.current.settled).toMatchObject([{ line: 'swab', how: 'declared' }]);
  expect(both.current.missing).toHaveLength(2);
});

test('[D3] of what is declared, what is found is taken from the marks of its line, first to last', () => {
  const two = given(...searched, { ...declare, n: 1 }, { ...declare, n: 1, reason: 'gone' });
  const left = two.when(found).accepted();
  expect(left.current.missing).toMatchObject([{ n: 1, reason: 'gone' }]);
  const pair = given(...searched, declare, found);
  expect(pair.current.missing).toMatchObject([{ n: 1, reason: 'not found' }]);
  expect(given(...searched, declare, found, found).current.missing).toEqual([]);
});

test('[D3] what is found starts the recounts of its line again', () => {
  const story = given(...short, recount({ swab: 'usual' }));
  expect(story.current.differing.swab).toMatchObject({ streak: 1, recounts: 2 });
  expect(story.when(found).accepted().current.differing.swab?.streak).toBe(0);
});

test('[C5] a line that differs is kept with what was expected and what was found', () => {
  const story = given(...incised, seen(3));
  expect(story.current.differing.swab).toMatchObject({ expected: 5, found: 3, difference: -2 });
  const again = story.when(recount({ swab: { field: 4 } })).accepted();
  expect(again.current.differing.swab).toMatchObject({ expected: 5, found: 4, recounts: 1 });
  expect(story.current.counts.done.extra?.differing).toEqual(['swab']);
});

test('[D5] an amendment is kept with who agreed it', () => {
  const over: readonly Done[] = [...incised, seen(6), recount({ swab: { field: 6 } })];
  const story = given(...over, amend);
  expect(story.current.counts.amendments).toMatchObject([{ line: 'swab', n: 1, reason: 'x', at }]);
  expect(story.current.differing.swab).toMatchObject({ amended: 1, streak: 0 });
});

test('[X1] what is no command and no event of counts, discrepancies and moves is a fault', () => {
  const { current } = given();
  const strange = JSON.parse('{"type":"dance"}');
  const context = { at, by: 'Prueba', id: 'x' };
  expect(() => decideCounts(current, strange, context)).toThrow(Fault);
  expect(() => decideDiscrepancies(current, strange, context)).toThrow(Fault);
  expect(() => evolveCounts(current, strange)).toThrow(Fault);
  expect(() => evolveDiscrepancies(current, strange)).toThrow(Fault);
  expect(() => evolveMoves(current, strange)).toThrow(Fault);
});
