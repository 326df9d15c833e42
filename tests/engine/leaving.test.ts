import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Sheet } from '#engine/sheet.ts';
import { count, type Done, given, givenOn, incised, recount } from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

/** What stays in the patient, why, and who decided it; and what a search showed not to be there. */

const move = (line: string, from: string, to: string, n = 1) =>
  ({ type: 'move', line, from, to, n }) as const;
const explain = { type: 'explain', line: 'drain', reason: 'pus', where: 'pelvis' } as const;
const both = ['surgeon', 'scrub'];
const needleLeft = { type: 'explain', line: 'needle', reason: 'in bone', by: both } as const;
const inside = (line: string, site: string, n = 1): readonly Done[] => [
  move(line, 'table', `patient/${site}`, n),
];
const drainsIn: readonly Done[] = [
  ...incised,
  { type: 'add', line: 'drain', n: 3 },
  move('drain', 'table', 'patient/abdomen', 2),
];
const broken: Done = { type: 'break', line: 'needle', at: 'table', into: 2, lengths: [10, 12] };

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  ['a line not known', 'unknown-line', 'mop', incised, { ...explain, line: 'mop' }],
  ['a site not known', 'unknown-site', 'knee', drainsIn, { ...explain, site: 'knee' }],
  ['a place that is no site', 'unknown-site', 'table', drainsIn, { ...explain, site: 'table' }],
  ['less than one', 'not-a-quantity', 'n', drainsIn, { ...explain, n: 0 }],
  [
    'nothing said',
    'reason-missing',
    'drain',
    drainsIn,
    { type: 'explain', line: 'drain', reason: ' ' },
  ],
  [
    'no reason for what may not stay',
    'reason-missing',
    'needle',
    [...incised, ...inside('needle', 'abdomen')],
    { type: 'explain', line: 'needle', where: 'bone', by: both },
  ],
  [
    'decided without the surgeon',
    'surgeon-missing',
    'needle',
    [...incised, ...inside('needle', 'abdomen')],
    { ...needleLeft, by: ['scrub', 'circulator'] },
  ],
  [
    'decided by nobody',
    'surgeon-missing',
    'needle',
    [...incised, ...inside('needle', 'abdomen')],
    { type: 'explain', line: 'needle', reason: 'in bone' },
  ],
  [
    'of two sites, none said',
    'which-place',
    'needle',
    [...incised, ...inside('needle', 'abdomen'), ...inside('needle', 'uterus')],
    needleLeft,
  ],
  [
    'from a site where there is none',
    'not-enough',
    'needle',
    [...incised, ...inside('needle', 'abdomen')],
    { ...needleLeft, site: 'uterus' },
  ],
  ['more than are inside', 'not-enough', 'drain', drainsIn, { ...explain, n: 3 }],
  ['nothing inside and nothing that stays', 'not-enough', 'drain', incised, explain],
  [
    'lengths that are not in question',
    'not-enough',
    'needle: fragment',
    [...incised, { ...broken, lengths: [11, 15] } as Done], // a break
    { ...needleLeft, line: 'needle-fragment' },
  ],
])('[L9] leaving is refused: %s', (_, code, detail, done, command) => {
  given(...done)
    .when(command)
    .refused(code, detail);
});

const at = '2026-01-05T08:00:00+00:00';

test('[L9] what is inside is left from its only site, all of it where no number is said', () => {
  const all = given(...drainsIn, explain);
  expect(all.balance('drain', 'stays')).toBe(2);
  expect(all.current.left.drain).toEqual([
    { n: 2, site: 'abdomen', reason: 'pus', where: 'pelvis', at },
  ]);
  const one = given(...drainsIn, { ...explain, n: 1 });
  expect(one.balance('drain', 'stays')).toBe(1);
  expect(one.balance('drain', 'patient/abdomen')).toBe(1);
});

test('[L9] of two sites the one that is said is meant', () => {
  const inTwo = [...inside('needle', 'abdomen'), ...inside('needle', 'uterus')];
  const left = given(...incised, ...inTwo, { ...needleLeft, site: 'uterus' });
  expect(left.balance('needle', 'patient/uterus')).toBe(0);
  expect(left.balance('needle', 'patient/abdomen')).toBe(1);
  expect(left.current.left.needle).toEqual([
    { n: 1, site: 'uterus', reason: 'in bone', decidedBy: ['Ensayo', 'Testa'], at },
  ]);
});

test('[L9] what stays already is explained before more is left', () => {
  const stays = move('drain', 'patient/abdomen', 'stays');
  const story = given(...drainsIn, stays, explain);
  expect(story.balance('drain', 'patient/abdomen')).toBe(1);
  expect(story.current.left.drain).toEqual([
    { n: 1, site: 'abdomen', reason: 'pus', where: 'pelvis', at },
  ]);
  const more = story.when({ ...explain, where: 'left gutter' }).accepted();
  expect(more.balance('drain', 'patient/abdomen')).toBe(0);
  expect(more.current.left.drain).toMatchObject([{ where: 'pelvis' }, { where: 'left gutter' }]);
});

test('[L9] a reason fills in what has none; what was explained before keeps its own', () => {
  const stays = move('drain', 'patient/abdomen', 'stays');
  const said = { ...stays, reason: 'pus', where: 'pelvis' } as const;
  const story = given(...drainsIn, said, stays, { ...explain, reason: 'bile', where: 'bed' });
  expect(story.current.left.drain).toMatchObject([
    { reason: 'pus', where: 'pelvis' },
    { reason: 'bile', where: 'bed' },
  ]);
});

test('[L9] a reason may be given again, and replaces the old one', () => {
  const story = given(...drainsIn, explain, move('drain', 'table', 'off'));
  const again = story.when({ type: 'explain', line: 'drain', where: 'left gutter' }).accepted();
  expect(again.current.left.drain).toEqual([
    { n: 2, site: 'abdomen', reason: 'pus', where: 'left gutter', at },
  ]);
  expect(again.balance('drain', 'stays')).toBe(2);
});

test('[L9] a lot number is kept with what stays', () => {
  const story = given(
    ...incised,
    { type: 'add', line: 'implant', n: 1 },
    move('implant', 'table', 'stays'),
    { type: 'explain', line: 'implant', lot: 'LOT-1' },
  );
  expect(story.current.left.implant).toEqual([{ n: 1, site: undefined, lot: 'LOT-1', at }]);
});

test('[L11] lengths that do not add up are accepted by a reason, not by a place', () => {
  const story = given(...incised, broken);
  const fragment = { type: 'explain', line: 'needle-fragment', by: both } as const;
  story.when({ ...fragment, where: 'bone' }).refused('reason-missing');
  const said = story.when({ ...fragment, reason: 'worn off' }).accepted();
  expect(said.current.fragments).toMatchObject([{ explained: 'worn off' }]);
  expect(said.current.left).toEqual({});
  said.when({ ...fragment, reason: 'worn off' }).refused('not-enough');
});

test('[L11] accepting the lengths of one line says nothing of another', () => {
  const seal: Done = { type: 'break', line: 'loop', at: 'table', into: 2 };
  const story = given(...incised, { type: 'add', line: 'loop', n: 1 }, seal, broken, {
    type: 'explain',
    line: 'needle-fragment',
    reason: 'worn off',
    by: both,
  });
  expect(story.current.fragments.map(({ line, explained }) => [line, explained])).toEqual([
    ['loop-fragment', undefined],
    ['needle-fragment', 'worn off'],
  ]);
});

const none = { type: 'searchedNone', line: 'faecolith', n: 1, reason: 'not felt' } as const;
const carried = (n: number, site = 'abdomen', line = 'faecolith'): Done => ({
  type: 'carriedIn',
  line,
  n,
  site,
  from: 'imaging',
});
const inAbdomen = { ...none, site: 'abdomen' } as const;

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  ['of a line not known', 'unknown-line', 'mop', incised, { ...inAbdomen, line: 'mop' }],
  [
    'in a site not known',
    'unknown-site',
    'knee',
    [...incised, carried(1)],
    { ...none, site: 'knee' },
  ],
  [
    'in a site not known, though there is only one that it can be',
    'unknown-site',
    'table',
    [...incised, carried(1)],
    { ...none, site: 'table' },
  ],
  [
    'in one of two sites',
    'unknown-site',
    undefined,
    [...incised, carried(1), carried(1, 'uterus')],
    none,
  ],
  ['of less than one', 'not-a-quantity', 'n', [...incised, carried(1)], { ...inAbdomen, n: 0 }],
  [
    'without a reason',
    'reason-missing',
    'faecolith',
    [...incised, carried(1)],
    { ...inAbdomen, reason: ' ' },
  ],
  [
    'by another than the surgeon',
    'surgeon-missing',
    'faecolith',
    [...incised, carried(1)],
    { ...inAbdomen, by: 'scrub' },
  ],
  ['of what nothing was carried in', 'not-carried-in', 'faecolith', incised, inAbdomen],
  [
    'of more than were carried in',
    'not-enough',
    'faecolith',
    [...incised, carried(1)],
    { ...inAbdomen, n: 2 },
  ],
  [
    'in a site where there is none',
    'not-enough',
    'faecolith',
    [...incised, carried(1)],
    { ...none, site: 'uterus' },
  ],
  [
    'of what was carried in and put in besides',
    'not-enough',
    'seal',
    [...incised, carried(1, 'abdomen', 'seal'), ...inside('seal', 'abdomen')],
    { ...inAbdomen, line: 'seal', n: 2 },
  ],
  [
    'of what was searched for before',
    'not-carried-in',
    'seal',
    [
      ...incised,
      carried(1, 'abdomen', 'seal'),
      ...inside('seal', 'abdomen'),
      { ...inAbdomen, line: 'seal' },
    ],
    { ...inAbdomen, line: 'seal' },
  ],
])('[L8] a search in vain is refused: %s', (_, code, detail, done, command) => {
  given(...done)
    .when(command)
    .refused(code, detail);
});

test('[L8] where it can only be in one site, none need be said', () => {
  const story = given(...incised, carried(2, 'uterus'))
    .when(none)
    .accepted();
  expect(story.balance('faecolith', 'patient/uterus')).toBe(1);
  expect(story.current.missing).toEqual([
    { line: 'faecolith', n: 1, why: 'searched-none', reason: 'not felt', by: ['Ensayo'], at },
  ]);
  const abdomen = storySheet.sites.filter((site) => site.id === 'abdomen');
  const oneSite: Sheet = { ...storySheet, sites: abdomen, specimens: [], closures: [] };
  const only = givenOn(oneSite, ...incised, carried(1)).when(none);
  expect(only.accepted().balance('faecolith', 'missing')).toBe(1);
});

test('[L8] what was carried in of another line is not counted with it', () => {
  const two: readonly Done[] = [
    ...incised,
    carried(2),
    carried(1, 'abdomen', 'seal'),
    ...inside('seal', 'abdomen', 2),
  ];
  given(...two)
    .when({ ...inAbdomen, line: 'seal', n: 2 })
    .refused('not-enough');
  const searched = given(...two, { ...inAbdomen, line: 'seal' });
  expect(
    searched
      .when({ ...inAbdomen, n: 2 })
      .accepted()
      .balance('faecolith', 'missing'),
  ).toBe(2);
});

test('[L8] what was declared missing was not searched for in vain', () => {
  const step = (name: 'surgeon-told' | 'record-read' | 'field-searched' | 'room-searched') =>
    ({ type: 'discrepancy', line: 'needle', step: name, by: 'surgeon' }) as const;
  const short = { needle: { field: 2 } };
  const declared = given(
    ...incised,
    carried(1, 'abdomen', 'needle'),
    count('extra', short),
    recount(short),
    step('surgeon-told'),
    step('record-read'),
    step('field-searched'),
    step('room-searched'),
    { type: 'discrepancy', line: 'needle', step: 'xray', skip: 'no machine', by: 'surgeon' },
    { type: 'declare', line: 'needle', n: 1, from: 'table', reason: 'not found', by: both },
  );
  declared.when({ ...inAbdomen, line: 'needle' }).accepted();
});

test('[L8] that one line is of an earlier operation says nothing of another', () => {
  const oldPack: Done = {
    type: 'carriedIn',
    line: 'old-pack',
    n: 1,
    site: 'abdomen',
    from: 'earlier-operation',
  };
  given(...incised, oldPack, carried(1))
    .when(inAbdomen)
    .accepted();
});

test('[L8] a search asks the last look again', () => {
  const story = given(...incised, carried(1), {
    type: 'look',
    closure: 'abdomen',
    answers: { seen: true, dry: 'dry' },
  });
  expect(story.holds('abdomen')).not.toContain('look-open');
  expect(story.when(inAbdomen).accepted().holds('abdomen')).toContain('look-open');
});
