import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { filmWorth } from '#engine/discrepancies/filmWorth.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Line, Sheet } from '#engine/sheet.ts';
import { count, type Done, given, givenOn, incised, look, recount } from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** A discrepancy followed to its end, and what a film is worth: refusals in order, marks, and what is said. */

const at = '2026-01-05T08:00:00+00:00';
const both = ['surgeon', 'scrub'];
const three = ['scrub', 'circulator', 'surgeon'];
const strange = (json: string) => JSON.parse(json);
const move = (line_: string, from: string, to: string, n = 1): Command => ({
  type: 'move',
  line: line_,
  from,
  to,
  n,
});
const shortBy = (field: number): readonly Done[] => [
  count('extra', { swab: { field } }),
  recount({ swab: { field } }),
];
const short: readonly Done[] = [...incised, ...shortBy(3)];
const over: readonly Done[] = [
  ...incised,
  count('extra', { swab: { field: 7 } }),
  recount({ swab: { field: 7 } }),
];
const step = (name: string, more: object = {}): Command =>
  strange(
    JSON.stringify({ type: 'discrepancy', line: 'swab', step: name, by: 'surgeon', ...more }),
  );
const found = (more: object = {}): Command => step('found', { place: 'off', ...more });
const film = { type: 'xray', wholeField: true, result: 'nothing-seen', readBy: 'Lettura' } as const;
const searched: readonly Done[] = [
  step('surgeon-told'),
  step('record-read'),
  step('field-searched'),
  step('room-searched'),
  { ...film, line: 'swab' },
];
const declare = { type: 'declare', line: 'swab', n: 1, reason: 'not found', by: both } as const;
const amend = { type: 'amend', line: 'swab', n: 1, reason: 'unsaid', by: three } as const;
const deferXray = { type: 'deferXray', reason: 'unstable', by: both } as const;
const uterusClosed: readonly Done[] = [
  ...incised,
  count('cavity'),
  { type: 'close', closure: 'uterus' },
  ...shortBy(3),
];
const waived: Done = { type: 'waive', moment: 'first', reason: 'bleeding', by: both };
const inTwo: readonly Done[] = [...incised, move('swab', 'table', 'off', 2), ...shortBy(1)];

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  [
    'a step of a line not known',
    'unknown-line',
    'mop',
    short,
    step('record-read', { line: 'mop' }),
  ],
  ['a step that is none', 'unknown-step', 'prayer', short, step('prayer')],
  ['a step by nobody', 'name-missing', 'record-read', short, step('record-read', { by: ' ' })],
  ['a film read by nobody', 'name-missing', 'readBy', short, step('xray', { wholeField: true })],
  [
    'a step of a line that agrees',
    'no-discrepancy',
    'needle',
    short,
    step('record-read', { line: 'needle' }),
  ],
  [
    'a film read by nobody, of a line that agrees',
    'name-missing',
    'readBy',
    short,
    step('xray', { line: 'needle', wholeField: true }),
  ],
  ['found at no place', 'unknown-place', 'knee', short, found({ place: 'knee' })],
  ['found from no place', 'unknown-place', 'knee', short, found({ from: 'knee' })],
  ['found less than one', 'not-a-quantity', 'n', short, found({ n: 0 })],
  ['found where it stays', 'not-a-move', 'stays', short, found({ place: 'stays' })],
  ['found from where it stays', 'not-a-move', 'stays', short, found({ from: 'stays' })],
  [
    'found inside before the incision',
    'before-incision',
    'patient/abdomen',
    [count('first'), ...shortBy(3)],
    found({ place: 'patient/abdomen' }),
  ],
  [
    'found in a closed site',
    'site-closed',
    'patient/uterus',
    uterusClosed,
    found({ place: 'patient/uterus' }),
  ],
  ['found of a line that agrees', 'no-discrepancy', 'needle', short, found({ line: 'needle' })],
  ['found of a line that is over', 'discrepancy-over', 'swab', over, found()],
  ['found from one of two places', 'which-place', 'swab', inTwo, found()],
  ['found more than there are', 'not-enough', 'swab', short, found({ from: 'table', n: 6 })],
  ['declared: a line not known', 'unknown-line', 'mop', short, { ...declare, line: 'mop' }],
  ['declared: from no place', 'unknown-place', 'knee', short, { ...declare, from: 'knee' }],
  ['declared: less than one', 'not-a-quantity', 'n', short, { ...declare, n: 0 }],
  ['declared without a reason', 'reason-missing', 'swab', short, { ...declare, reason: ' ' }],
  ['declared by one', 'surgeon-missing', 'swab', short, { ...declare, by: ['surgeon'] }],
  [
    'declared by nobody',
    'surgeon-missing',
    'swab',
    short,
    { type: 'declare', line: 'swab', n: 1, reason: 'not found' },
  ],
  ['declared from where it stays', 'not-a-move', 'stays', short, { ...declare, from: 'stays' }],
  [
    'declared: a line that agrees',
    'no-discrepancy',
    'needle',
    short,
    { ...declare, line: 'needle' },
  ],
  ['declared: a line that is over', 'discrepancy-over', 'swab', over, declare],
  ['declared with a step open', 'steps-open', 'surgeon-told', short, declare],
  ['declared from one of two places', 'which-place', 'swab', [...inTwo, ...searched], declare],
  [
    'declared: more than are missing',
    'not-enough',
    'swab',
    [...short, ...searched],
    { ...declare, n: 3 },
  ],
  [
    'declared from where there are not so many',
    'not-enough',
    'swab',
    [...short, ...searched],
    { ...declare, from: 'off' },
  ],
  ['amended: a line not known', 'unknown-line', 'mop', over, { ...amend, line: 'mop' }],
  ['amended: less than one', 'not-a-quantity', 'n', over, { ...amend, n: 0 }],
  ['amended without a reason', 'reason-missing', 'swab', over, { ...amend, reason: ' ' }],
  ['amended without the circulator', 'two-people', 'swab', over, { ...amend, by: both }],
  [
    'amended without the surgeon',
    'surgeon-missing',
    'swab',
    over,
    { ...amend, by: ['scrub', 'circulator'] },
  ],
  [
    'amended by nobody',
    'two-people',
    'swab',
    over,
    { type: 'amend', line: 'swab', n: 1, reason: 'unsaid' },
  ],
  ['amended: a line that agrees', 'no-discrepancy', 'needle', over, { ...amend, line: 'needle' }],
  ['amended: a line that is short', 'discrepancy-short', 'swab', short, amend],
  ['amended: more than the excess', 'not-enough', 'swab', over, { ...amend, n: 3 }],
  [
    'a film that shows neither',
    'malformed',
    'result',
    incised,
    strange('{"type":"xray","readBy":"L"}'),
  ],
  ['a film of a line not known', 'unknown-line', 'mop', incised, { ...film, line: 'mop' }],
  ['a film that nobody read', 'name-missing', 'readBy', incised, { ...film, readBy: ' ' }],
  [
    'deferred without a reason',
    'reason-missing',
    undefined,
    [waived],
    { ...deferXray, reason: ' ' },
  ],
  ['deferred by one', 'surgeon-missing', undefined, [waived], { ...deferXray, by: ['surgeon'] }],
  [
    'deferred by nobody',
    'surgeon-missing',
    undefined,
    [waived],
    { type: 'deferXray', reason: 'unstable' },
  ],
  ['deferred where none is owed', 'no-xray-owed', undefined, incised, deferXray],
])('[D1] [D3] [D4] [D5] [D7] it is refused: %s', (_, code, detail, done, command) => {
  given(...done)
    .when(command)
    .refused(code, detail);
});

test.each<readonly [string, readonly Done[], Command]>([
  ['found off the field, where nothing else is said', short, step('found')],
  ['found inside a site that is open', short, found({ place: 'patient/abdomen' })],
  ['found where it should be', short, found({ place: 'table' })],
  ['found of all there are', short, found({ n: 5 })],
  ['declared of all that are missing', [...short, ...searched], { ...declare, n: 2 }],
  [
    'declared of the last that there is',
    [...incised, ...shortBy(0), ...searched],
    { ...declare, n: 5, from: 'table' },
  ],
  ['amended of the whole excess', over, { ...amend, n: 2 }],
])('[D3] [D4] [D5] a piece can be %s', (_, done, command) => {
  given(...done)
    .when(command)
    .accepted();
});

test('[D3] what is found where the record has it moves nothing', () => {
  const [event] = given(...short)
    .when(found({ place: 'table' }))
    .events();
  expect(event).toMatchObject({ type: 'found', from: 'table', place: 'table', n: 1, postings: [] });
  expect(
    given(...short)
      .when(step('found'))
      .events(),
  ).toMatchObject([{ from: 'table', place: 'off' }]);
});

test('[D3] with one left in the field, it is taken from there; with none, from what was declared', () => {
  const lastOne: readonly Done[] = [...incised, move('swab', 'table', 'patient/uterus', 5)];
  const inside = given(
    ...lastOne,
    count('extra', { swab: { field: 4 } }),
    recount({ swab: { field: 4 } }),
  );
  expect(inside.when(found()).events()).toMatchObject([{ from: 'patient/uterus' }]);
  const declared = given(...short, ...searched, { ...declare, n: 2 });
  expect(declared.when(found()).events()).toMatchObject([{ from: 'missing' }]);
  declared.when(found({ from: 'table' })).accepted();
});

test('[D3] what is found inside asks the last look again, what is found outside does not', () => {
  const looked = given(...short, look('abdomen'));
  const inside = looked.when(found({ place: 'patient/abdomen' })).accepted();
  expect(inside.holds('abdomen')).toContain('look-open');
  expect(looked.when(found()).accepted().holds('abdomen')).not.toContain('look-open');
});

test('[D3] what is found in the field takes no mark of what was declared of its line', () => {
  const one = given(...short, ...searched, declare, found({ from: 'table' }));
  expect(one.current.missing).toMatchObject([{ line: 'swab', n: 1 }]);
  const back = given(...short, ...searched, declare, found({ from: 'missing' }));
  expect(back.current.missing).toEqual([]);
});

test('[D3] of two lines declared, the one that is found loses its mark, and no more than was found', () => {
  const needles: readonly Done[] = [
    count('extra', { needle: { field: 0 }, swab: { field: 3 } }),
    recount({ needle: { field: 0 }, swab: { field: 3 } }),
    ...searched,
    ...searched.map((one) => ({ ...one, line: 'needle' }) as Command), // the same steps
    { ...declare, n: 2 },
    { ...declare, line: 'needle', n: 1 },
    { ...declare, line: 'needle', n: 1, reason: 'dropped' },
  ];
  const left = (command: Command) =>
    given(...incised, ...needles)
      .when(command)
      .accepted()
      .current.missing.map(({ line: line_, n, reason }) => [line_, n, reason]);
  expect(left(found({ line: 'needle', from: 'missing' }))).toEqual([
    ['swab', 2, 'not found'],
    ['needle', 1, 'dropped'],
  ]);
  expect(left(found({ from: 'missing' }))).toEqual([
    ['swab', 1, 'not found'],
    ['needle', 1, 'not found'],
    ['needle', 1, 'dropped'],
  ]);
});

test('[D4] a declaration is kept with its mark, who made it and why, and ends its line', () => {
  const { current } = given(...short, ...searched, { ...declare, n: 2 });
  expect(current.missing).toEqual([
    { line: 'swab', n: 2, why: 'declared', reason: 'not found', by: ['Ensayo', 'Testa'], at },
  ]);
  expect(current.settled).toMatchObject([
    { line: 'swab', how: 'declared', settledAt: at, reason: 'not found', by: ['Ensayo', 'Testa'] },
  ]);
  expect(current.log).toMatchObject({
    type: 'declared',
    subject: 'swab',
    canTakeBack: false,
  });
});

test.each<readonly [string, Command, Command]>([
  ['a declaration under the film before it', { ...film, line: 'swab' }, declare],
  ['an amendment under the step before it', step('record-read'), amend],
  ['a finding under the step before it', step('record-read'), found()],
])('[L12] %s is not taken away', (name, one, other) => {
  const before = name.includes('amendment') ? over : [...short, ...searched.slice(0, 4)];
  const story = given(...before, one, other);
  const { entry } = story.current;
  story.when({ type: 'correct', entry: entry - 1 }).refused('entry-depended-on', `Entry ${entry}`);
});

const stones: Done = {
  type: 'carriedIn',
  line: 'faecolith',
  n: 1,
  site: 'abdomen',
  from: 'imaging',
};
const none: Command = {
  type: 'searchedNone',
  line: 'faecolith',
  n: 1,
  site: 'abdomen',
  reason: 'not felt',
};

test('[D4] a mark of what is missing stands on the marks before it', () => {
  const story = given(...short, ...searched, stones, none, declare);
  const { entry } = story.current;
  story.when({ type: 'correct', entry: entry - 1 }).refused('entry-depended-on', `Entry ${entry}`);
});

test('[D3] what is found in the field does not stand on what was searched for in vain', () => {
  const story = given(...short, stones, none, found());
  story.when({ type: 'correct', entry: story.current.entry - 1 }).accepted();
});

test('[D1] a step that was done carries no reason why not', () => {
  const { current } = given(...short, step('record-read'));
  expect(current.differing.swab?.steps).toStrictEqual({ 'record-read': { by: 'Ensayo', at } });
});

test('[D7] what was said of a film as a step of a discrepancy is kept, and no more than was said', () => {
  const bare = given(...short).when(step('xray', { readBy: 'Lettura' }));
  expect(bare.events()).toMatchObject([
    {
      type: 'xrayRead',
      line: 'swab',
      wholeField: false,
      result: 'nothing-seen',
      readBy: 'Lettura',
    },
  ]);
  expect(bare.said()).toContain('film-part');
  const whole = step('xray', { readBy: 'Lettura', wholeField: true, result: 'seen' });
  expect(
    given(...short)
      .when(whole)
      .events(),
  ).toMatchObject([{ wholeField: true, result: 'seen' }]);
  const skipped = step('xray', { skip: 'no machine' });
  expect(
    given(...short)
      .when(skipped)
      .events(),
  ).toMatchObject([{ type: 'discrepancyStepped', step: 'xray', skipped: 'no machine' }]);
});

test('[D7] a film of a line that agrees is kept, and is a step of nothing', () => {
  const { current } = given(...incised, { ...film, line: 'needle' });
  expect(current.xrays).toMatchObject([{ line: 'needle', wholeField: true }]);
  expect(current.differing).toEqual({});
});

test('[D7] a deferral is kept with who decided it', () => {
  const { current } = given(waived, deferXray);
  expect(current.deferral).toEqual({ reason: 'unstable', by: ['Ensayo', 'Testa'], at });
  expect(current.log).toMatchObject({ type: 'xrayDeferred', subject: '', undo: [] });
});

const lines = [
  line('steel', { class: 'sharp', opening: 1, sizeMm: 26 }),
  line('dust', { class: 'sharp', opening: 1, sizeMm: 8 }),
];
const sharp: Sheet = { ...storySheet, lines: [...storySheet.lines, ...lines] };

test('[D6] beside a film is said what it is worth, for the line that is looked for', () => {
  const said = (more: object) =>
    givenOn(sharp, ...incised)
      .when({ ...film, ...more })
      .said();
  expect(said({})).toEqual(['film-negative']);
  expect(said({ line: 'steel' })).toEqual(['film-negative']);
  expect(said({ line: 'steel', result: 'seen' })).toEqual([]);
  expect(said({ line: 'dust' })).toEqual(['film-negative', 'film-poor']);
  expect(said({ wholeField: false })).toEqual(['film-part', 'film-negative']);
});

const needle = (sizeMm: number | undefined, film_: Line['film'] = 'yes'): Line =>
  line('needle', { class: 'sharp', film: film_, ...(sizeMm === undefined ? {} : { sizeMm }) });

test.each<readonly [string, Line, string, RegExp]>([
  ['of no shadow', line('cone', { film: 'no', sizeMm: 40 }), 'none', /does not show this material/],
  ['of 10 mm', needle(10), 'poor', /few pieces of 10 mm or less \(29 %/],
  ['of 11 mm', needle(11), 'poor', /Below 13 mm a film cannot be trusted/],
  ['of 13 mm', needle(13), 'shows', /84 % of needles/],
  ['of 24 mm', needle(24), 'shows', /84 % of needles/],
  ['of 25 mm', needle(25), 'shows', /99 % of needles/],
  ['of no known size', needle(undefined), 'unknown', /is not known\. Film one beside it/],
  ['of steel, by its size', needle(26, 'varies'), 'shows', /99 % of needles/],
  ['of steel, of no known size', needle(undefined, 'varies'), 'unknown', /depends on its make/],
  [
    'that varies by its make',
    line('clip', { film: 'varies', sizeMm: 30 }),
    'unknown',
    /depends on its make/,
  ],
])('[D6] for a piece %s a film is worth: %s', (_, of, level, sentence) => {
  const worth = filmWorth(of, storySheet.policy);
  expect(worth.level).toBe(level);
  expect(worth.sentence).toMatch(sentence);
});

test('[D6] a fragment is judged by its own size', () => {
  expect(filmWorth(needle(26), storySheet.policy, 9).level).toBe('poor');
});
