import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Sheet, Turn } from '#engine/sheet.ts';
import { count, type Done, given, givenOn, incised } from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** Pieces that turn into others, and pieces that break: what is refused, and what begins where. */

const turn = (id: string, at: Turn['at'], gives: Turn['gives'], asks?: string): Turn => ({
  id,
  name: id,
  at,
  gives,
  ...(asks === undefined ? {} : { asks }),
});

const cap = [{ line: 'cap', n: 2, place: 'here' }] as const;
const more = [
  line('cap'),
  line('clip', {
    opening: 4,
    turns: [
      turn('fired', 'any', [{ line: 'ligature', n: 1, place: 'stays' }, ...cap]),
      turn('dropped', 'table', [{ line: 'pusher', n: 3, place: 'patient' }, ...cap]),
      turn('opened', 'any', cap),
      turn('thrown', 'table', [{ line: 'cap', n: 1, place: 'off' }]),
    ],
  }),
  line('spool', {
    opening: 900,
    turns: [
      turn('cut', 'table', [{ line: 'strand', n: 'asked', place: 'here' }, ...cap], 'lengths'),
    ],
  }),
];

/** Three sites; and the same with the abdomen alone, where a turn on the table can only mean that. */
const sheet: Sheet = { ...storySheet, lines: [...storySheet.lines, ...more] };
const abdomen = storySheet.sites.filter((site) => site.id === 'abdomen');
const closures = storySheet.closures
  .filter((one) => one.id === 'abdomen')
  .map((one) => ({ ...one, inUse: ['clip'], look: [] }));
const oneSite: Sheet = { ...sheet, sites: abdomen, closures, specimens: [] };
const orifice: Sheet = { ...oneSite, sites: abdomen.map((one) => ({ ...one, kind: 'orifice' })) };

const clip = { type: 'turn', line: 'clip', at: 'table', n: 1 } as const;
const fired = { ...clip, turn: 'fired' } as const;
const dropped = { ...clip, turn: 'dropped' } as const;
const opened = { ...clip, turn: 'opened' } as const;
const cut = { type: 'turn', line: 'spool', turn: 'cut', at: 'table', n: 1, into: 4 } as const;
const counted: readonly Done[] = [count('first')];
const clipIn: Done = { type: 'move', line: 'clip', from: 'table', to: 'patient/abdomen', n: 1 };
const closed: readonly Done[] = [
  ...incised,
  clipIn,
  count('closing'),
  { type: 'close', closure: 'abdomen' },
];

type Row = readonly [string, RefusalCode, string, Sheet, readonly Done[], Command];

test.each<Row>([
  ['a line not known', 'unknown-line', 'mop', sheet, incised, { ...fired, line: 'mop' }],
  ['a turn not known', 'unknown-turn', 'bent', sheet, incised, { ...clip, turn: 'bent' }],
  ['a place not known', 'unknown-place', 'knee', sheet, incised, { ...fired, at: 'knee' }],
  ['less than one', 'not-a-quantity', 'n', sheet, incised, { ...fired, n: 0 }],
  ['lengths not said', 'not-a-quantity', 'lengths', sheet, incised, { ...cut, at: 'off', into: 0 }],
  [
    'more lengths than can be',
    'not-a-quantity',
    'lengths',
    sheet,
    incised,
    { ...cut, n: 400, into: 3 },
  ],
  [
    'at a place that is not the table',
    'wrong-place',
    'spool',
    sheet,
    incised,
    { ...cut, at: 'off' },
  ],
  ['where it stays', 'wrong-place', 'clip', sheet, incised, { ...fired, at: 'stays' }],
  ['into the patient, before the incision', 'before-incision', 'clip', oneSite, counted, dropped],
  ['to stay, before the incision', 'before-incision', 'clip', oneSite, counted, fired],
  ['into the patient, when it is closed', 'site-closed', 'clip', oneSite, closed, dropped],
  ['to stay, when it is closed', 'site-closed', 'clip', oneSite, closed, fired],
  [
    'in a site that is closed',
    'site-closed',
    'clip',
    oneSite,
    closed,
    { ...opened, at: 'patient/abdomen' },
  ],
  ['into one of three sites', 'which-place', 'clip', sheet, incised, dropped],
  ['more than there are', 'not-enough', 'clip', sheet, incised, { ...fired, n: 5 }],
])('[L10] a turn is refused: %s', (_, code, detail, on, done, command) => {
  givenOn(on, ...done)
    .when(command)
    .refused(code, detail);
});

test('[L6] [L7] with three sites nothing is fired to stay while none of them is open', () => {
  const cavities = sheet.sites.map((site) => ({ ...site, kind: 'cavity' as const }));
  givenOn({ ...sheet, sites: cavities }, ...counted)
    .when(fired)
    .refused('before-incision');
  givenOn(sheet, ...counted)
    .when(fired)
    .accepted(); // the vagina is open
});

test.each<readonly [string, Sheet, readonly Done[], Command]>([
  ['what stays on the table, before the incision', oneSite, counted, opened],
  ['what stays on the table, when all is closed', oneSite, closed, opened],
  ['into an orifice, before the incision', orifice, counted, dropped],
  ['what is counted off', oneSite, [...counted, off('clip')], { ...opened, at: 'off' }],
  ['all that there are', oneSite, incised, { ...fired, n: 4 }],
  ['what gives nothing to the patient, of three sites', sheet, incised, opened],
])('[L10] a turn is taken: %s', (_, on, done, command) => {
  givenOn(on, ...done)
    .when(command)
    .accepted();
});

function off(line_: string): Done {
  return { type: 'move', line: line_, from: 'table', to: 'off', n: 1 };
}

test('[L10] what a turn gives begins where the sheet says', () => {
  const story = givenOn(oneSite, ...incised)
    .when({ ...dropped, n: 2 })
    .accepted();
  expect(story.balance('clip', 'table')).toBe(2);
  expect(story.balance('pusher', 'patient/abdomen')).toBe(6);
  expect(story.balance('cap', 'table')).toBe(4);
  const thrown = story.when({ ...clip, turn: 'thrown' }).accepted();
  expect(thrown.balance('cap', 'off')).toBe(1);
});

test('[L9] what a turn leaves is kept with its site, where only one can be meant', () => {
  const stays = (on: Sheet, done: readonly Done[], at: string) =>
    givenOn(on, ...incised, ...done, { ...fired, at }).current.left.ligature;
  const at = '2026-01-05T08:00:00+00:00';
  expect(stays(oneSite, [], 'table')).toEqual([{ n: 1, site: 'abdomen', at }]);
  expect(stays(sheet, [], 'table')).toStrictEqual([{ n: 1, at }]); // the site is left out, not empty
  expect(stays(sheet, [clipIn], 'patient/abdomen')).toEqual([{ n: 1, site: 'abdomen', at }]);
});

test('[L10] an entry keeps what was said of a turn, and nothing that the turn does not ask', () => {
  const recorded = (command: Command) =>
    givenOn(sheet, ...incised)
      .when(command)
      .events();
  expect(recorded({ ...cut, lengthCm: 45 })).toMatchObject([
    { type: 'turned', turn: 'cut', name: 'cut', into: 4, lengthCm: 45, left: {} },
  ]);
  const [plain] = recorded({ ...opened, into: 3, lengthCm: -1 });
  expect(Object.keys(plain ?? {})).not.toContain('into');
  expect(Object.keys(plain ?? {})).not.toContain('lengthCm');
  const [bare] = recorded(opened);
  expect(Object.keys(bare ?? {})).not.toContain('into');
});

test('[L11] what breaks gives fragments that are counted, can break again, and may not stay', () => {
  const grouped = line('grasper', {
    class: 'instrument',
    opening: 1,
    group: 'port',
    film: 'varies',
  });
  const on: Sheet = { ...sheet, lines: [...sheet.lines, grouped] };
  const story = givenOn(on, ...incised, { type: 'break', line: 'grasper', at: 'table', into: 3 });
  expect(story.current.lines.get('grasper-fragment')).toEqual({
    ...line('grasper-fragment'),
    name: 'grasper: fragment',
    group: 'port',
    class: 'small',
    counted: true,
    tracked: true,
    cuttable: true,
    film: 'varies',
    opening: 0,
    stay: { may: 'no' },
    brings: [],
    turns: [],
  });
  const again = story.when({ type: 'break', line: 'grasper-fragment', at: 'table', into: 2 });
  expect(again.accepted().balance('grasper-fragment-fragment', 'table')).toBe(2);
  const bare = given(...incised, { type: 'break', line: 'needle', at: 'table', into: 2 });
  expect(Object.keys(bare.current.lines.get('needle-fragment') ?? {})).not.toContain('group');
});

test('[L11] a second piece that breaks adds to the fragments of the first', () => {
  const needle: Command = { type: 'break', line: 'needle', at: 'table', into: 2 };
  const story = given(...incised, needle, needle);
  expect(story.balance('needle-fragment', 'table')).toBe(4);
  expect(story.current.lines.size).toBe(storySheet.lines.length + 1);
});

const broken = { type: 'break', line: 'needle', at: 'table', into: 2 } as const;

test.each<readonly [string, RefusalCode, string, Command]>([
  ['of a line not known', 'unknown-line', 'mop', { ...broken, line: 'mop' }],
  ['of a counted swab', 'not-cuttable', 'swab', { ...broken, line: 'swab' }],
  ['at a place not known', 'unknown-place', 'knee', { ...broken, at: 'knee' }],
  ['into one', 'not-a-quantity', 'into', { ...broken, into: 1 }],
  ['with a length too many', 'not-a-number', 'lengths', { ...broken, lengths: [1, 2, 3] }],
  ['where it is not handled', 'wrong-place', 'needle', { ...broken, at: 'supply' }],
  ['of what is not there', 'not-enough', 'needle', { ...broken, at: 'off' }],
])('[L11] a break is refused: %s', (_, code, detail, command) => {
  given(...incised)
    .when(command)
    .refused(code, detail);
});

test('[L11] a needle that was counted off can be found broken there', () => {
  given(...incised, off('needle'))
    .when({ ...broken, at: 'off' })
    .accepted();
});
