import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { packsSeen } from '#engine/counts/packsSeen.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Sheet } from '#engine/sheet.ts';
import {
  count,
  type Done,
  given,
  givenOn,
  incised,
  look,
  recount,
  specimenGone,
} from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** What is opened, moved, carried in and set aside: refusals with where they point, and what is kept. */

const move = (line_: string, from: string, to: string, n = 1) =>
  ({ type: 'move', line: line_, from, to, n }) as const;
const swabIn = move('swab', 'table', 'patient/abdomen');
const packs = (...of: readonly number[]) => ({ type: 'add', line: 'swab', packs: of }) as const;
const stones = {
  type: 'carriedIn',
  line: 'faecolith',
  n: 3,
  site: 'abdomen',
  from: 'seen',
} as const;
const strange = JSON.parse('{"type":"carriedIn","line":"faecolith","n":3,"from":"the moon"}');
const counted: readonly Done[] = [count('first')];

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  ['a line not known', 'unknown-line', 'mop', incised, { ...swabIn, line: 'mop' }],
  ['from a place not known', 'unknown-place', 'knee', incised, { ...swabIn, from: 'knee' }],
  ['to a place not known', 'unknown-place', 'knee', incised, { ...swabIn, to: 'knee' }],
  ['less than one', 'not-a-quantity', 'n', incised, { ...swabIn, n: 0 }],
  ['away with nobody', 'name-missing', 'with', incised, { ...swabIn, to: 'away', n: 1 }],
  ['to where it is', 'same-place', 'table', incised, { ...swabIn, to: 'table' }],
  [
    'a swab with a specimen',
    'not-with-specimen',
    'swab',
    [...incised, ...specimenGone],
    { ...swabIn, to: 'specimen' },
  ],
  [
    'with a specimen while none is out',
    'not-taken-yet',
    'seal',
    incised,
    move('seal', 'table', 'specimen'),
  ],
  [
    'with a specimen that was not taken',
    'not-taken-yet',
    'seal',
    [...incised, { type: 'specimen', id: 'lump', step: 'notTaken', reason: 'adherent' }],
    move('seal', 'table', 'specimen'),
  ],
  ['into a cavity before the incision', 'before-incision', 'patient/abdomen', counted, swabIn],
  [
    'into a closed site',
    'site-closed',
    'uterus',
    [...incised, count('cavity'), { type: 'close', closure: 'uterus' }],
    { ...swabIn, to: 'patient/uterus' },
  ],
  ['more than there are', 'not-enough', 'swab', incised, { ...swabIn, n: 6 }],
])('[L2] a move is refused: %s', (_, code, detail, done, command) => {
  given(...done)
    .when(command)
    .refused(code, detail);
});

const cavities = storySheet.sites.map((site) => ({ ...site, kind: 'cavity' as const }));
const noOrifice: Sheet = { ...storySheet, sites: cavities };
const drain = line('drain', { opening: 3, stay: { may: 'yes' } });
const withDrain: Sheet = {
  ...noOrifice,
  lines: [...storySheet.lines.filter((one) => one.id !== 'drain'), drain],
  specimens: [],
};
const uterusClosed: readonly Done[] = [
  ...incised,
  count('cavity'),
  { type: 'close', closure: 'uterus' },
];
const allClosed: readonly Done[] = [
  ...uterusClosed,
  look('abdomen'),
  count('closing'),
  { type: 'close', closure: 'abdomen' },
  count('final'),
  { type: 'close', closure: 'skin' },
];
const stays = move('drain', 'table', 'stays');

test('[L6] nothing stays from the table before a site is open; an orifice is', () => {
  const { sites } = storySheet;
  givenOn(withDrain, ...counted)
    .when(stays)
    .refused('before-incision', 'stays');
  givenOn({ ...withDrain, sites }, ...counted)
    .when(stays)
    .accepted();
  givenOn(withDrain, ...incised)
    .when(stays)
    .accepted();
});

test('[L7] nothing stays from the table when every site is closed; from one that is open it does', () => {
  givenOn(withDrain, ...uterusClosed)
    .when(stays)
    .accepted();
  givenOn(withDrain, ...allClosed)
    .when(stays)
    .refused('site-closed', 'stays');
  givenOn(withDrain, ...allClosed)
    .when(move('drain', 'table', 'off'))
    .accepted();
});

test('[L9] what is inside a closed site on purpose can still be said to stay', () => {
  const closures = storySheet.closures.map((one) => ({ ...one, inUse: ['drain'] }));
  const drainIn = move('drain', 'table', 'patient/uterus');
  const inside = givenOn({ ...withDrain, closures }, ...incised, drainIn, count('cavity'), {
    type: 'close',
    closure: 'uterus',
  });
  inside.when(move('drain', 'patient/uterus', 'stays')).accepted();
});

test('[L14] one specimen that is out is enough, whatever the others are', () => {
  const node: readonly Done[] = [
    { type: 'specimen', id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
    { type: 'specimen', id: 'node', step: 'taken' },
  ];
  given(...incised, ...node)
    .when(move('seal', 'table', 'specimen'))
    .accepted();
});

const sealIn = move('seal', 'table', 'patient/abdomen');

test.each<readonly [string, boolean, readonly Done[], Command]>([
  ['out of a site to the table', true, [sealIn], move('seal', 'patient/abdomen', 'table')],
  ['out of a site to off', true, [sealIn], move('seal', 'patient/abdomen', 'off')],
  ['into a site', false, [], sealIn],
  ['from site to site', false, [sealIn], move('seal', 'patient/abdomen', 'patient/uterus')],
  ['out of a site to stay', false, [sealIn], move('seal', 'patient/abdomen', 'stays')],
  [
    'out of a site with a specimen',
    false,
    [sealIn, { type: 'specimen', id: 'lump', step: 'taken' }],
    move('seal', 'patient/abdomen', 'specimen'),
  ],
  ['from the table to off', false, [], move('seal', 'table', 'off')],
  ['of what is not in use there', false, [swabIn], move('swab', 'patient/abdomen', 'off')],
])('[C6] a port part is taken out as in use: %s is %s', (_, inUse, done, command) => {
  given(...incised, ...done)
    .when(command)
    .records({ type: 'moved', inUse });
});

test('[L5] who has what is away is kept without spaces round it, and only for what is away', () => {
  const [away] = given(...incised)
    .when({ ...move('needle', 'table', 'away'), with: ' the baby ' })
    .events();
  expect(away).toMatchObject({ with: 'the baby' });
  const [off] = given(...incised)
    .when({ ...move('needle', 'table', 'off'), with: 'the baby' })
    .events();
  expect(Object.keys(off ?? {})).not.toContain('with');
});

test('[L5] what comes back from away is taken from whoever had it last', () => {
  const away = (line_: string, with_: string, n = 1): Done => ({
    ...move(line_, 'table', 'away', n),
    with: with_,
  });
  const story = given(
    ...incised,
    away('needle', 'Uno'),
    away('seal', 'Due'),
    away('needle', 'Tre'),
  );
  const held = (done: Command) =>
    story
      .when(done)
      .accepted()
      .current.away.map(({ line: line_, n, with: with_ }) => [line_, n, with_]);
  expect(held(move('needle', 'away', 'table'))).toEqual([
    ['needle', 1, 'Uno'],
    ['seal', 1, 'Due'],
  ]);
  expect(held(move('needle', 'away', 'table', 2))).toEqual([['seal', 1, 'Due']]);
  const three = given(...incised, away('swab', 'Uno', 3), move('swab', 'away', 'table', 1));
  expect(three.current.away).toMatchObject([{ line: 'swab', n: 2, with: 'Uno' }]);
});

test('[X5] what stays from the table, or is taken from where it stays, asks look and count again', () => {
  const looked = given(...incised, { type: 'add', line: 'drain', n: 1 }, look('abdomen'));
  const stayed = looked.when(move('drain', 'table', 'stays')).accepted();
  expect(stayed.holds('abdomen')).toContain('look-open');
  expect(stayed.current.agedEntry).toBe(stayed.current.entry);
  const again = given(
    ...incised,
    { type: 'add', line: 'drain', n: 1 },
    move('drain', 'table', 'stays'),
    look('abdomen'),
    move('drain', 'stays', 'table'),
  );
  expect(again.holds('abdomen')).toContain('look-open');
  expect(again.current.left.drain).toEqual([]);
});

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  ['of a line not known', 'unknown-line', 'mop', incised, { ...packs(5), line: 'mop' }],
  ['of no number', 'not-a-quantity', 'n', incised, { type: 'add', line: 'loop' }],
  ['of less than one', 'not-a-quantity', 'n', incised, { type: 'add', line: 'loop', n: 0 }],
  ['of less than no pack', 'not-a-quantity', 'n', incised, { type: 'add', line: 'swab', n: -5 }],
  ['of no packs', 'not-a-quantity', 'packs', incised, packs()],
  ['of packs of which one is empty', 'not-a-quantity', 'packs', incised, packs(5, 0)],
  [
    'of more than can be',
    'not-a-quantity',
    'packs',
    incised,
    packs(...new Array<number>(200).fill(5)),
  ],
  ['seen by nobody', 'name-missing', 'Prueba', incised, { ...packs(5), by: [' '] }],
  ['of a part of a pack', 'packs-needed', 'swab', incised, { type: 'add', line: 'swab', n: 7 }],
  ['before the first count', 'baseline-open', undefined, [], packs(5)],
])('[L3] opening is refused: %s', (_, code, detail, done, command) => {
  given(...done)
    .when(command)
    .refused(code, detail);
});

test('[D5] what was amended in full can be added to again', () => {
  const over = { needle: { field: 3 } };
  const by = ['scrub', 'circulator', 'surgeon'];
  const amended = given(...incised, count('closing', over), recount(over), {
    type: 'amend',
    line: 'needle',
    n: 1,
    reason: 'two in a packet',
    by,
  });
  amended.when({ type: 'add', line: 'needle', n: 1 }).accepted();
});

test('[L3] what comes with each piece, or with each sound pack, comes in with it', () => {
  const brings = [{ line: 'shim', n: 2 }];
  const box = line('box', { pack: 10, brings });
  const on: Sheet = { ...storySheet, lines: [...storySheet.lines, box] };
  const opened = givenOn(on, ...incised, { type: 'add', line: 'box', packs: [10, 10, 9] });
  expect(opened.balance('shim', 'table')).toBe(4);
  const none = givenOn(on, ...incised)
    .when({ type: 'add', line: 'box', packs: [9] })
    .events();
  expect(none).toMatchObject([{ n: 0, setAside: [9], postings: [] }]);
});

test('[L4] a loop comes in no pack, and its number is never set aside', () => {
  expect(
    given(...incised)
      .when({ type: 'add', line: 'loop', packs: [3, 4] })
      .events(),
  ).toMatchObject([{ n: 7, setAside: [] }]);
});

test('[L4] packs that are set aside are kept with their number, and make no count stale', () => {
  const at = '2026-01-05T08:00:00+00:00';
  const story = given(...incised, count('cavity'), packs(4), packs(6));
  expect(story.current.counts.setAside).toEqual([
    { line: 'swab', pieces: 4, at },
    { line: 'swab', pieces: 6, at },
  ]);
  expect(story.about('uterus')).not.toContain('count-due cavity');
  const sound = given(...incised, packs(5)).current.counts;
  expect(sound.setAside).toEqual([]);
  expect(sound.first).toBe('agreed');
});

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  ['from nowhere that is known', 'malformed', 'from', incised, strange],
  ['of a line not known', 'unknown-line', 'mop', incised, { ...stones, line: 'mop' }],
  ['in a site not known', 'unknown-site', 'knee', incised, { ...stones, site: 'knee' }],
  ['of less than one', 'not-a-quantity', 'n', incised, { ...stones, n: 0 }],
  ['in a closed site', 'site-closed', 'uterus', uterusClosed, { ...stones, site: 'uterus' }],
])('[L8] what starts inside is refused: %s', (_, code, detail, done, command) => {
  given(...done)
    .when(command)
    .refused(code, detail);
});

const swab = line('swab', { class: 'swab', pack: 5 });

test.each([
  ['two packs of five', { packs: [5, 5] }, 10, []],
  ['a pack of four beside a sound one', { packs: [5, 4] }, 5, [4]],
  ['only wrong packs', { packs: [4, 6] }, 0, [4, 6]],
  ['ten as one number', { field: 10 }, 10, []],
  ['nine of ten: one pack is short', { field: 9 }, 5, [4]],
  ['eleven of ten: one pack is over', { field: 11 }, 5, [6]],
  ['four of none: less than a pack is short', { field: 4 }, 0, [4]],
  ['seven, partly off the field', { field: 4, off: 3 }, 5, [2]],
  ['ten, partly off the field', { field: 6, off: 4 }, 10, []],
])('[L4] of %s what is sound enters', (_, seen, sound, setAside) => {
  expect(packsSeen(swab, 10, { field: 0, off: 0, ...seen })).toEqual({ sound, setAside });
});

test('[L4] seen as over the list, a pack holds too many; nothing listed and less than a pack, too few', () => {
  expect(packsSeen(swab, 0, { field: 6, off: 0 })).toEqual({ sound: 0, setAside: [6] });
  expect(packsSeen(swab, 0, { field: 4, off: 0 })).toEqual({ sound: 0, setAside: [4] });
  expect(packsSeen(swab, 6, { field: 6, off: 0 })).toEqual({ sound: 0, setAside: [6] });
  const loop = line('loop');
  expect(packsSeen(loop, 2, { field: 3, off: 2 })).toEqual({ sound: 5, setAside: [] });
});

test('[L11] a length is asked only of what has one', () => {
  const broken: Command = { type: 'break', line: 'seal', at: 'table', into: 2, lengths: [3, 4] };
  const { fragments } = given(...incised, broken).current;
  expect(fragments).toMatchObject([
    { line: 'seal-fragment', of: 'seal', into: 2, lengths: [3, 4] },
  ]);
  expect(Object.keys(fragments[0] ?? {})).not.toContain('wholeMm');
});

test('[X5] a turn outside asks the last look only where it puts something inside', () => {
  const reel: Done = { type: 'add', line: 'reel', n: 1 };
  const cut: Command = { type: 'turn', line: 'reel', turn: 'cut', at: 'table', n: 1, into: 2 };
  const story = given(...incised, reel, look('abdomen'), cut);
  expect(story.holds('abdomen')).not.toContain('look-open');
  expect(story.current.agedEntry).toBe(story.current.entry);
  const loop: readonly Done[] = [
    { type: 'add', line: 'loop', n: 1 },
    move('loop', 'table', 'patient/abdomen'),
    look('abdomen'),
    { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
  ];
  expect(given(...incised, ...loop).holds('abdomen')).toContain('look-open');
});

test('[C6] what starts inside makes counts stale and asks the look again; so does a break', () => {
  const looked = given(...incised, look('abdomen'));
  const carried = looked.when(stones).accepted();
  expect(carried.holds('abdomen')).toContain('look-open');
  expect(carried.current.agedEntry).toBe(carried.current.entry);
  const broken = looked.when({ type: 'break', line: 'seal', at: 'table', into: 2 }).accepted();
  expect(broken.current.agedEntry).toBe(broken.current.entry);
  expect(broken.holds('abdomen')).not.toContain('look-open');
});

test('[L11] lengths are in question only where the whole has one, and for their own line', () => {
  const broken = (line_: string, ...lengths: readonly number[]): Done => ({
    type: 'break',
    line: line_,
    at: 'table',
    into: 2,
    ...(lengths.length > 0 ? { lengths } : {}),
  });
  const story = given(...incised, broken('seal', 3, 4), broken('needle', 10, 12));
  const open = story.about('abdomen').filter((hold) => hold.startsWith('fragment-open'));
  expect(open).toEqual(['fragment-open needle-fragment']);
  const wire = line('wire', { opening: 1, lengthMm: 0.05 });
  const on: Sheet = { ...storySheet, lines: [...storySheet.lines, wire] };
  const off = givenOn(on, ...incised, broken('wire', 0.05, 0.05)); // off by 0.05 mm, not by less
  expect(off.about('abdomen')).toContain('fragment-open wire-fragment');
});

test('[L14] an old pack that started inside can leave with the tissue that it lay in', () => {
  given(
    ...incised,
    { ...stones, line: 'old-pack', n: 1 },
    { type: 'specimen', id: 'lump', step: 'taken' },
  )
    .when(move('old-pack', 'patient/abdomen', 'specimen'))
    .accepted();
});

test('[L9] what stays of one line stays when another turns', () => {
  const story = given(
    ...incised,
    { type: 'add', line: 'drain', n: 1 },
    move('drain', 'table', 'stays'),
    { type: 'add', line: 'loop', n: 1 },
    move('loop', 'table', 'patient/abdomen'),
    { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
  );
  expect(Object.keys(story.current.left)).toEqual(['drain', 'ligature']);
});

test('[X10] what an entry does not change keeps its identity', () => {
  const before = given(...incised, packs(4), { type: 'add', line: 'reel', n: 1 });
  const after = before.when(packs(5)).accepted();
  expect(after.current.counts.setAside).toBe(before.current.counts.setAside);
  const cut: Command = { type: 'turn', line: 'reel', turn: 'cut', at: 'table', n: 1, into: 2 };
  expect(before.when(cut).accepted().current.left).toBe(before.current.left);
});
