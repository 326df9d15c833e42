import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import type { Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { MomentId, Sheet } from '#engine/sheet.ts';
import { count, type Done, given, givenOn, incised, recount } from '../support/given.ts';
import { seen } from '../support/seen.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** Counts in detail: who, in which order, what each compares, what it posts and what it leaves behind. */

const at = '2026-01-05T08:00:00+00:00';
const begin = (moment: MomentId, more: object = {}): Command => ({
  type: 'beginCount',
  moment,
  ...more,
});
const enter = (line_: string, field: number, off?: number): Command => ({
  type: 'enter',
  line: line_,
  field,
  ...(off === undefined ? {} : { off }),
});
const move = (line_: string, from: string, to: string, n = 1): Command => ({
  type: 'move',
  line: line_,
  from,
  to,
  n,
});
const agree: Command = { type: 'agree' };
const both = ['surgeon', 'scrub'];
const waive = (moment: MomentId): Command => ({
  type: 'waive',
  moment,
  reason: 'bleeding',
  by: both,
});
const relief: Command = { type: 'relief', role: 'scrub', to: 'Nuovo' };
const running: readonly Done[] = [...incised, begin('closing')];
const toOpen: Command = { type: 'variant', to: 'open' };
const lunch = JSON.parse('"lunch"');
const differs: readonly Done[] = [...incised, count('closing', { needle: { field: 1 } })];
const names = storySheet.lines.map((one) => ({ ...one, name: `The ${one.id}` }));
const named: Sheet = { ...storySheet, lines: names };

type Row = readonly [string, RefusalCode, string | undefined, readonly Done[], Command];
const rows: readonly Row[] = [
  ['at no moment', 'unknown-moment', 'lunch', incised, begin(lunch)],
  ['by nobody', 'name-missing', undefined, incised, begin('closing', { scrub: ' ' })],
  ['by one person', 'same-person', 'Testa', incised, begin('closing', { circulator: 'testa' })],
  ['while another runs', 'count-running', undefined, running, begin('final')],
  ['the first a second time', 'already-counted', undefined, incised, begin('first')],
  ['the first, which was waived', 'count-waived', undefined, [waive('first')], begin('first')],
  ['before the first', 'baseline-open', undefined, [], begin('closing')],
  ['where nothing was opened', 'nothing-to-count', undefined, incised, begin('added')],
  ['a relief without a relief', 'no-relief', undefined, incised, begin('relief')],
  [
    'a relief by another than who came',
    'two-people',
    undefined,
    [...incised, relief],
    begin('relief', { scrub: 'Altro' }),
  ],
  ['what is not on the sheet', 'unknown-line', 'mop', running, enter('mop', 1)],
  ['less than nothing', 'not-a-count', 'The needle', running, enter('needle', -1)],
  ['what is seen while none runs', 'no-count', undefined, incised, enter('needle', 1)],
  ['what is only followed', 'not-in-count', 'The faecolith', running, enter('faecolith', 1)],
  [
    'a tray that is not counted in',
    'not-in-count',
    'The open-tray',
    [...incised, toOpen, begin('cavity')],
    enter('open-tray', 4),
  ],
  ['agreed by one', 'two-people', undefined, incised, { type: 'agree', by: ['scrub'] }],
  [
    'agreed by others than who counted',
    'two-people',
    undefined,
    running,
    { type: 'agree', by: ['Uno', 'Due'] },
  ],
  ['agreed while none runs', 'no-count', undefined, incised, agree],
  ['agreed with a line open', 'lines-open', 'The needle', [...running, enter('swab', 5)], agree],
  ['recounted: nothing', 'unknown-line', undefined, differs, { type: 'recount', lines: {} }],
  [
    'recounted: a line without a number',
    'not-a-count',
    'The needle',
    differs,
    { type: 'recount', lines: { needle: {} } },
  ],
  [
    'recounted: a line not known',
    'unknown-line',
    'mop',
    differs,
    { type: 'recount', lines: { mop: { field: 1 } } },
  ],
  [
    'recounted by one',
    'two-people',
    undefined,
    differs,
    { type: 'recount', lines: { needle: { field: 2 } }, by: ['scrub', 'Testa'] },
  ],
  [
    'recounted: a line that agrees',
    'not-differing',
    'The swab',
    differs,
    { type: 'recount', lines: { needle: { field: 2 }, swab: { field: 5 } } },
  ],
  ['a relief of no role', 'unknown-role', 'cook', incised, { ...relief, role: cook() }],
  ['a relief by nobody', 'name-missing', 'to', incised, { ...relief, to: ' ' }],
  ['a relief by the same', 'same-person', 'TESTA', incised, { ...relief, to: 'TESTA' }],
  [
    'a relief by the other who counts',
    'same-person',
    'Prueba',
    incised,
    { ...relief, to: 'Prueba' },
  ],
  [
    'and the other way',
    'same-person',
    'Testa',
    incised,
    { ...relief, role: 'circulator', to: 'scrub' },
  ],
  ['waived at no moment', 'unknown-moment', 'lunch', incised, waive(lunch)],
  ['waived: what can be left out anyway', 'unknown-moment', 'extra', incised, waive('extra')],
  ['waived: what was opened', 'unknown-moment', 'added', incised, waive('added')],
  [
    'waived without a reason',
    'reason-missing',
    'Prueba',
    incised,
    { ...waive('closing'), reason: ' ' } as Command, // a waiver
  ],
  [
    'waived by nobody',
    'surgeon-missing',
    undefined,
    incised,
    { type: 'waive', moment: 'closing', reason: 'bleeding' },
  ],
  ['waived: the first, which is done', 'already-counted', undefined, incised, waive('first')],
  ['waived: the first, again', 'count-waived', undefined, [waive('first')], waive('first')],
  ['waived: a later one before the first', 'baseline-open', undefined, [], waive('closing')],
  ['waived: a relief that is not owed', 'no-relief', undefined, incised, waive('relief')],
  [
    'broken off without a reason',
    'reason-missing',
    undefined,
    running,
    { type: 'abandon', reason: '' },
  ],
];

function cook() {
  return JSON.parse('"cook"');
}

test.each(rows)('[C1] [C3] a count is refused %s', (_, code, detail, done, command) => {
  givenOn(named, ...done)
    .when(command)
    .refused(code, detail);
});

test.each<readonly [string, readonly Done[], Command]>([
  ['by a fresh pair of eyes', incised, begin('closing', { scrub: 'Uno', circulator: 'Due' })],
  ['after a waived first count', [waive('first')], begin('closing')],
  ['waived after a waived first count', [waive('first')], waive('closing')],
  ['of a line that nobody asked for', running, enter('loop', 1)],
  ['of what lies only off the field', running, { type: 'enter', line: 'needle', off: 2 }],
  ['of a relief by who came and who stayed', [...incised, relief], begin('relief')],
  ['waived for a relief that is owed', [...incised, relief], waive('relief')],
])('[C1] [C3] a count can be made %s', (_, done, command) => {
  given(...done)
    .when(command)
    .accepted();
});

test('[C9] a surgeon may hand over to whoever counted', () => {
  given(...incised)
    .when({ type: 'relief', role: 'surgeon', to: 'Testa' })
    .accepted();
});

test('[C3] a sheet without a cavity has no cavity count; an extra count goes with nothing too', () => {
  const bare: Sheet = {
    ...storySheet,
    lines: [line('loop')],
    moments: storySheet.moments.filter(({ id }) => id === 'closing' || id === 'final'),
  };
  const counted = givenOn(bare, count('first'));
  counted.when(begin('cavity')).refused('unknown-moment', 'cavity');
  counted.when(begin('closing')).accepted();
  counted.when(count('extra')).accepted();
});

const asked = (story: { readonly current: ReturnType<typeof given>['current'] }) =>
  story.current.counts.running?.lines;

test('[C2] the first count asks what the list says, in the order of the classes', () => {
  expect(asked(given(begin('first')))).toEqual(['swab', 'needle', 'seal', 'tray']);
});

test('[C2] a count that takes nothing over begins with nothing', () => {
  const [event] = given(...incised)
    .when(begin('closing'))
    .events();
  expect(Object.keys(event ?? {})).not.toContain('found');
});

test('[C2] a later count asks what was opened or began, and what its moment covers', () => {
  const loop: readonly Done[] = [
    { type: 'add', line: 'loop', n: 1 },
    move('loop', 'table', 'patient/abdomen'),
    { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
  ];
  const began = ['loop', 'ligature', 'pusher', 'end-piece'];
  expect(asked(given(...incised, ...loop, begin('closing')))).toEqual([
    ...['swab', 'needle', 'seal'],
    ...began,
    'tray',
  ]);
  expect(asked(given(...incised, ...loop, begin('cavity')))).toEqual([
    ...['swab', 'needle', 'seal'],
    ...began,
  ]);
});

test('[C2] what is entered beside the pass becomes a line of it', () => {
  const story = given(...running, enter('loop', 1), enter('loop', 0));
  expect(asked(story)).toEqual(['swab', 'needle', 'seal', 'tray', 'loop']);
  expect(seen(story.current)).toEqual({ loop: { field: 0, off: 0 } });
  expect(story.current.log).toMatchObject({ type: 'entered', subject: 'loop' });
});

const agreed = (done: readonly Done[], last: Command = agree) =>
  given(...done)
    .when(last)
    .events()[0];

test('[C4] the first count posts what was seen, and keeps what differs from the list', () => {
  const seen: readonly Done[] = [
    begin('first'),
    enter('swab', 4, 6),
    enter('needle', 0, 2),
    enter('seal', 1, 0),
    enter('tray', 3),
  ];
  expect(agreed(seen)).toMatchObject({
    type: 'countAgreed',
    moment: 'first',
    agreedBy: ['Testa', 'Prueba'],
    outcomes: [
      { line: 'swab', found: { field: 4, off: 6 }, expected: 10 },
      { line: 'needle', found: { field: 0, off: 2 }, expected: 2 },
      { line: 'seal', found: { field: 1, off: 0 }, expected: 1 },
      { line: 'tray', found: { field: 3, off: 0 }, expected: 3 },
    ],
    findings: [
      { line: 'swab', listed: 5, seen: 10 },
      { line: 'seal', listed: 2, seen: 1 },
    ],
    setAside: [],
  });
  expect(agreed(seen)).toHaveProperty('postings', [
    { line: 'swab', place: 'supply', by: -4 },
    { line: 'swab', place: 'table', by: 4 },
    { line: 'swab', place: 'supply', by: -6 },
    { line: 'swab', place: 'off', by: 6 },
    { line: 'needle', place: 'supply', by: -2 },
    { line: 'needle', place: 'off', by: 2 },
    { line: 'seal', place: 'supply', by: -1 },
    { line: 'seal', place: 'table', by: 1 },
    { line: 'tray', place: 'supply', by: -3 },
    { line: 'tray', place: 'table', by: 3 },
  ]);
  expect(
    given(...seen)
      .when(agree)
      .said(),
  ).toEqual(['tray-differs', 'packs-in-one']);
});

const closingSeen = (swab: Command): readonly Done[] => [
  ...running,
  swab,
  enter('needle', 2),
  enter('seal', 2),
  enter('tray', 3),
];

test('[C7] with an equal total the split follows the eyes, either way, and else nothing moves', () => {
  expect(agreed(closingSeen(enter('swab', 5)))).toStrictEqual({
    type: 'countAgreed',
    moment: 'closing',
    agreedBy: ['Testa', 'Prueba'],
    outcomes: [
      { line: 'swab', found: { field: 5, off: 0 }, expected: 5 },
      { line: 'needle', found: { field: 2, off: 0 }, expected: 2 },
      { line: 'seal', found: { field: 2, off: 0 }, expected: 2 },
      { line: 'tray', found: { field: 3, off: 0 }, expected: 3 },
    ],
    postings: [],
    findings: [],
    setAside: [],
    entry: expect.any(Number),
    at,
    by: 'Prueba',
    id: expect.any(String),
  });
  const off = given(...closingSeen(enter('swab', 3, 2)), agree);
  expect([off.balance('swab', 'table'), off.balance('swab', 'off')]).toEqual([3, 2]);
  const back = off.when(count('extra', { swab: { field: 4, off: 1 } })).accepted();
  expect([back.balance('swab', 'table'), back.balance('swab', 'off')]).toEqual([4, 1]);
});

test('[C7] a recount that agrees lets the split follow the eyes too', () => {
  const story = given(...differs, recount({ needle: { field: 1, off: 1 } }));
  expect([story.balance('needle', 'table'), story.balance('needle', 'off')]).toEqual([1, 1]);
});

const added = (tray: Command, swabs: Command): readonly Done[] => [
  ...incised,
  toOpen,
  move('large-swab', 'table', 'patient/abdomen', 2),
  begin('added'),
  swabs,
  tray,
];

test('[X11] what is counted in is rebased on what was seen; a difference from the list is kept', () => {
  const story = given(...added(enter('open-tray', 2, 1), enter('large-swab', 2, 1)), agree);
  const moved: readonly Done[] = [
    ...incised,
    toOpen,
    move('open-tray', 'table', 'off'),
    begin('added'),
    enter('large-swab', 5),
    enter('open-tray', 1, 2),
    agree,
  ];
  const tray = given(...moved);
  expect([tray.balance('open-tray', 'table'), tray.balance('open-tray', 'off')]).toEqual([1, 2]);
  const where = (line_: string) =>
    ['supply', 'table', 'off', 'patient/abdomen'].map((place) => story.balance(line_, place));
  expect(where('open-tray')).toEqual([-3, 2, 1, 0]);
  expect(where('large-swab')).toEqual([-5, 2, 1, 2]); // two inside, not seen
  expect(story.current.counts.findings).toEqual([{ line: 'open-tray', listed: 4, seen: 3 }]);
  expect(story.current.counts.uncounted).toEqual({});
  expect(story.current.differing).toEqual({});
  expect(story.current.counts.done.added).toMatchObject({ lines: 2, differing: [] });
});

test('[X11] what was inside and seen is counted once; what is missing lowers the baseline', () => {
  const all = given(...added(enter('open-tray', 4), enter('large-swab', 5)), agree);
  expect(all.balance('large-swab', 'table')).toBe(3);
  expect(all.current.counts.findings).toEqual([]);
  const less = given(...added(enter('open-tray', 4), enter('large-swab', 4)), agree);
  expect(less.balance('large-swab', 'table')).toBe(2);
  expect(less.current.counts.findings).toEqual([{ line: 'large-swab', listed: 5, seen: 4 }]);
});

test('[X11] an entry that counts in says what was seen, and posts only what changes', () => {
  const done = added(enter('open-tray', 3, 1), enter('large-swab', 3, 0));
  expect(agreed(done)).toMatchObject({
    outcomes: [
      { line: 'large-swab', found: { field: 5, off: 0 }, expected: 5 },
      { line: 'open-tray', found: { field: 3, off: 1 }, expected: 4 },
    ],
  });
  expect(agreed(done)).toHaveProperty('postings', [
    { line: 'open-tray', place: 'table', by: -1 },
    { line: 'open-tray', place: 'off', by: 1 },
  ]);
});

test('[X11] what is only followed by number does not wait to be counted in', () => {
  const opens = { faecolith: 1, 'open-tray': 4 };
  const variants = storySheet.variants.map((one) => (one.id === 'open' ? { ...one, opens } : one));
  const story = givenOn({ ...storySheet, variants }, ...incised, toOpen);
  expect(Object.keys(story.current.counts.uncounted)).toEqual(['open-tray']);
  expect(story.when(count('added')).accepted().holds('skin')).not.toContain('baseline-open');
});

test('[C4] [X11] what the first count sets aside, or what is counted in, is no difference', () => {
  const first = given(count('first', { swab: { packs: [4] } }));
  expect(first.current.differing).toEqual({});
  const tray = { 'open-tray': { field: 3 } };
  const story = given(...incised, toOpen, count('closing', tray), count('added', tray));
  expect(story.current.differing['open-tray']).toMatchObject({ streak: 0, recounts: 0 });
});

test('[C8] what lies only off the field can be recounted so', () => {
  given(...differs)
    .when({ type: 'recount', lines: { needle: { off: 2 } } })
    .accepted();
});

test('[C8] lines that are settled one after another are all kept', () => {
  const short = { needle: { field: 1 }, swab: { field: 4 } };
  const story = given(
    ...incised,
    count('closing', short),
    recount({ needle: 'usual' }),
    recount({ needle: 'usual' }),
    recount({ swab: 'usual' }),
    recount({ swab: 'usual' }),
  );
  expect(story.current.settled.map(({ line: line_, how }) => [line_, how])).toEqual([
    ['needle', 'agreed'],
    ['swab', 'agreed'],
  ]);
});

test('[L12] only what differed stands under a recount; the other lines of a count do not', () => {
  const first = given(...incised, count('closing'));
  expect(first.current.log).toMatchObject({ type: 'countAgreed', subject: '', undo: [] });
  const again = given(...differs, count('extra'));
  expect(again.current.log?.undo).toMatchObject([{ slice: 'differing', key: 'needle' }]);
});

test('[C9] a short break is kept, changes the team, and owes no count', () => {
  const { current } = given(...incised, { ...relief, short: true } as Command); // a relief
  expect(current.counts.reliefs).toEqual([
    { role: 'scrub', from: 'Testa', to: 'Nuovo', at, short: true },
  ]);
  expect(current.counts.reliefDue).toEqual([]);
  expect(current.counts.first).toBe('agreed');
  expect(current.team.scrub).toBe('Nuovo');
});

test('[C9] before the first count a relief owes none: the first count is with the new person', () => {
  expect(given(relief).current.counts.reliefDue).toEqual([]);
  expect(given(...incised, relief).current.counts.reliefDue).toEqual(['scrub']);
  const again: Command = { type: 'relief', role: 'scrub', to: 'Altro' };
  expect(given(...incised, relief, again).current.counts.reliefDue).toEqual(['scrub']);
});

test('[C10] a count that is voided or broken off says why', () => {
  expect(given(...running, relief).current.counts.broken).toEqual({
    moment: 'closing',
    reason: 'Somebody was relieved while it ran.',
    at,
  });
  const added_: Done = { type: 'add', line: 'loop', n: 1 };
  expect(given(...running, added_).current.counts).toMatchObject({
    running: undefined,
    broken: {
      moment: 'closing',
      reason: 'Something was entered while the count was running.',
      at,
    },
  });
  const abandon: Command = { type: 'abandon', reason: 'alarm' };
  expect(given(...running, abandon).current.counts.broken).toStrictEqual({
    moment: 'closing',
    reason: 'alarm',
    at,
  });
  expect(given(...running, abandon, begin('closing')).current.counts.broken).toBeUndefined();
});

test('[C11] a waived count is kept as one, with its reason; only the first posts the list', () => {
  const first = given(waive('first'));
  expect(first.balance('swab', 'table')).toBe(5);
  expect(first.current.counts.first).toBe('waived');
  const closing = given(...incised).when(waive('closing'));
  expect(closing.events()).toMatchObject([{ type: 'waived', lines: 4, postings: [] }]);
  const { counts, entry } = closing.accepted().current;
  const done = { entry, at, by: ['Ensayo', 'Testa'], waived: true, differing: [], lines: 4 };
  expect(counts.first).toBe('agreed');
  expect(counts.done.closing).toEqual(done);
  expect(counts.history.at(-1)).toEqual({ ...done, moment: 'closing' });
  expect(counts.waivers).toEqual([
    { entry, moment: 'closing', reason: 'bleeding', by: ['Ensayo', 'Testa'], at },
  ]);
});

test('[C9] a relief count that is waived is no longer due; another waiver leaves it due', () => {
  expect(given(...incised, relief, waive('relief')).current.counts.reliefDue).toEqual([]);
  expect(given(...incised, relief, waive('closing')).current.counts.reliefDue).toEqual(['scrub']);
});

test('[C10] a record in which something is seen while no count runs is damaged', () => {
  const stamp = { entry: 2, id: 'x', at, by: 'Prueba' };
  const entered = { ...stamp, type: 'entered', line: 'swab', found: { field: 1, off: 0 } } as const;
  const abandoned = { ...stamp, type: 'countAbandoned', reason: 'alarm' } as const;
  const fault = new Fault('what is counted belongs to a count that runs');
  expect(() => evolve(given().current, entered)).toThrow(fault);
  expect(() => evolve(given().current, abandoned)).toThrow(fault);
});

const byClass: Sheet = {
  ...storySheet,
  policy: { ...storySheet.policy, interruptedCount: 'class' },
};
const twoSwabs: readonly Done[] = [...incised, { type: 'add', line: 'large-swab', packs: [5] }];
const halfway: readonly Done[] = [
  ...twoSwabs,
  begin('closing'),
  enter('swab', 5),
  enter('large-swab', 5),
  enter('seal', 2),
  enter('loop', 0),
  enter('tray', 3),
];
const off: Command = { type: 'abandon', reason: 'alarm' };
const foundAgain = (on: Sheet, ...done: readonly Done[]) =>
  Object.keys(seen(givenOn(on, ...done).current) ?? {});

test('[C13] where the policy says so, the classes that were finished are kept', () => {
  const kept = ['swab', 'large-swab', 'seal', 'loop', 'tray'];
  expect(foundAgain(byClass, ...halfway, off, begin('closing'))).toEqual(kept);
  expect(foundAgain(storySheet, ...halfway, off, begin('closing'))).toEqual([]);
  const again = givenOn(byClass, ...halfway, off, begin('closing'));
  expect(asked(again)).toEqual(['swab', 'large-swab', 'needle', 'seal', 'tray', 'loop']);
});

test('[C13] of a class that was not finished nothing is kept', () => {
  const part: readonly Done[] = [
    ...twoSwabs,
    begin('closing'),
    enter('swab', 5),
    enter('needle', 2),
  ];
  expect(foundAgain(byClass, ...part, off, begin('closing'))).toEqual(['needle']);
});

test.each<readonly [string, readonly Done[], Command]>([
  ['another count', [], begin('final')],
  ['another scrub', [], begin('closing', { scrub: 'Uno' })],
  ['another circulator', [], begin('closing', { circulator: 'Uno' })],
  ['a piece that moved', [move('swab', 'table', 'off')], begin('closing')],
  [
    'a relief',
    [relief, { ...relief, to: 'Testa' } as Command], // a relief
    begin('closing'),
  ],
])('[C13] nothing is kept for %s', (_, between, again) => {
  expect(foundAgain(byClass, ...halfway, off, ...between, again)).toEqual([]);
});

test('[C13] what moves nothing leaves what was counted', () => {
  const note: Command = { type: 'note', text: 'alarm over' };
  expect(foundAgain(byClass, ...halfway, off, note, begin('closing'))).toHaveLength(5);
});
