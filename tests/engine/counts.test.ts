import { expect, test } from 'vitest';
import { linesOf } from '#engine/counts/linesOf.ts';
import {
  count,
  type Done,
  given,
  givenOpened,
  incised,
  opening,
  recount,
} from '../support/given.ts';

const swabIn = { type: 'move', line: 'swab', from: 'table', to: 'patient/abdomen', n: 1 } as const;
const swabOut = { ...swabIn, from: 'patient/abdomen', to: 'off' } as const;
const relief = { type: 'relief', role: 'scrub', to: 'Nuovo' } as const;
const short = count('closing', { needle: { field: 1 } });

test('[C1] one person is never scrub and circulator: at opening, at relief, at a count', () => {
  const team = { ...opening.team, circulator: 'testa ' };
  expect(() => givenOpened({ ...opening, team })).toThrow('same-person');
  given()
    .when({ ...relief, to: 'Prueba' })
    .refused('same-person');
  given()
    .when({ ...relief, to: 'circulator' })
    .refused('same-person');
  given()
    .when({ type: 'beginCount', moment: 'first', scrub: 'Nuovo', circulator: 'nuovo' })
    .refused('same-person');
});

test('[C1] the two who counted agree, by name', () => {
  const counting: readonly Done[] = [
    ...incised,
    { type: 'beginCount', moment: 'extra' },
    ...linesOf(given(...incised).current, 'extra').map(
      (line): Done => ({ type: 'enter', line, field: 1 }),
    ),
  ];
  given(...counting)
    .when({ type: 'agree', by: ['scrub'] })
    .refused('two-people');
  given(...counting)
    .when({ type: 'agree', by: ['surgeon', 'scrub'] })
    .refused('two-people');
  given(...counting)
    .when({ type: 'agree', by: ['circulator', 'scrub'] })
    .accepted();
  given(...counting)
    .when({ type: 'agree' })
    .accepted();
});

test('[C2] a count goes through swabs, sharps, small items, instruments', () => {
  const { current } = given(...incised, { type: 'add', line: 'loop', n: 1 });
  expect(linesOf(current, 'closing')).toEqual(['swab', 'needle', 'seal', 'loop', 'tray']);
});

test('[C2] a count covers what the sheet says: no instruments at the cavity count', () => {
  const story = given(...incised);
  expect(linesOf(story.current, 'cavity')).toEqual(['swab', 'needle', 'seal']);
  story
    .when({ type: 'beginCount', moment: 'cavity' })
    .records({ type: 'countBegun', scrub: 'Testa', circulator: 'Prueba' });
});

test('[C2] every line asked has a number before both agree', () => {
  const begun = given(...incised, { type: 'beginCount', moment: 'closing' });
  begun.when({ type: 'enter', line: 'swab', field: 5 }).accepted();
  begun.when({ type: 'agree' }).refused('lines-open');
  begun.when({ type: 'enter', line: 'swab', field: -1 }).refused('not-a-count');
  begun.when({ type: 'enter', line: 'swab', field: 1000 }).refused('not-a-count');
  begun.when({ type: 'enter', line: 'swab' }).refused('not-a-count');
  begun.when({ type: 'enter', line: 'faecolith', field: 1 }).refused('not-in-count');
});

test('[C3] the first count is made first, and once', () => {
  given().when({ type: 'beginCount', moment: 'closing' }).refused('baseline-open');
  const counted = given(count('first'));
  counted.when({ type: 'beginCount', moment: 'first' }).refused('already-counted');
  counted.when({ type: 'beginCount', moment: 'closing' }).accepted();
});

test('[C3] one count runs at a time, and can be broken off with a reason', () => {
  const running = given({ type: 'beginCount', moment: 'first' });
  running.when({ type: 'beginCount', moment: 'first' }).refused('count-running');
  running.when({ type: 'abandon', reason: '' }).refused('reason-missing');
  const broken = running.when({ type: 'abandon', reason: 'alarm' }).accepted();
  expect(broken.current.counts.broken).toMatchObject({ moment: 'first', reason: 'alarm' });
  given().when({ type: 'agree' }).refused('no-count');
});

test('[C4] the first count takes what was seen; a difference from the list is a finding', () => {
  const story = given()
    .when(count('first', { tray: { field: 2, off: 0 }, needle: { field: 1, off: 1 } }))
    .warned('tray-differs');
  expect(story.balance('tray', 'table')).toBe(2);
  expect(story.balance('needle', 'off')).toBe(1);
  expect(story.current.counts.findings).toEqual([{ line: 'tray', listed: 3, seen: 2 }]);
  expect(story.holds('abdomen')).not.toContain('count-differs');
});

test('[C4] something that is not on the list and was seen enters at the first count', () => {
  const story = given(count('first', { loop: { field: 1 } }));
  expect(story.balance('loop', 'table')).toBe(1);
});

test('[C5] fewer and more differ alike', () => {
  for (const field of [1, 3]) {
    const story = given(...incised, count('closing', { needle: { field } }));
    expect(story.holds('abdomen')).toContain('count-differs');
    expect(story.current.differing.needle).toMatchObject({ difference: field - 2 });
  }
  const same = given(...incised, count('closing'));
  expect(same.holds('abdomen')).not.toContain('count-differs');
});

test('[C5] a piece inside is counted with the others, and only if it is seen', () => {
  const unseen = given(...incised, swabIn, count('closing'));
  expect(unseen.holds('abdomen')).toContain('count-differs');
  const seen = given(...incised, swabIn, count('closing', { swab: { field: 5 } }));
  expect(seen.holds('abdomen')).not.toContain('count-differs');
  expect(seen.balance('swab', 'patient/abdomen')).toBe(1);
});

const aging: readonly (readonly [string, readonly Done[], Done])[] = [
  ['an addition', [], { type: 'add', line: 'loop', n: 1 }],
  ['something put into the patient', [], swabIn],
  ['something taken out', [swabIn], swabOut],
  ['a break', [], { type: 'break', line: 'needle', at: 'table', into: 2 }],
  [
    'something carried in',
    [],
    {
      type: 'carriedIn',
      line: 'faecolith',
      n: 1,
      site: 'abdomen',
      from: 'seen',
    },
  ],
  ['a move between sites', [swabIn], { ...swabIn, from: 'patient/abdomen', to: 'patient/vagina' }],
  ['leaving something', [swabIn], { ...swabIn, from: 'patient/abdomen', to: 'stays' }],
  ['a relief', [], relief],
];

test.each(aging)('[C6] %s makes the count stale', (_, before, done) => {
  const counted = given(...incised, ...before, count('closing', { swab: { field: 5 } }));
  expect(counted.about('abdomen')).not.toContain('count-due closing');
  expect(counted.when(done).accepted().about('abdomen')).toContain('count-due closing');
});

test('[C6] taking back what made a count stale leaves it stale', () => {
  const story = given(...incised, count('closing'), swabIn, { type: 'correct', last: 1 });
  expect(story.about('abdomen')).toContain('count-due closing');
});

test.each<readonly [string, readonly Done[], Done]>([
  ['a move from the table to off', [], { ...swabIn, to: 'off' }],
  ['taking out what may be in use', [{ ...swabIn, line: 'seal' }], { ...swabOut, line: 'seal' }],
  ['a short break', [], { ...relief, short: true }],
  ['a relief of the surgeon', [], { ...relief, role: 'surgeon' }],
  ['a note', [], { type: 'note', text: 'x' }],
])('[C6] %s does not', (_, before, done) => {
  const counted = given(...incised, ...before, count('closing'));
  expect(counted.about('abdomen')).not.toContain('count-due closing');
  expect(counted.when(done).accepted().about('abdomen')).not.toContain('count-due closing');
});

test('[C6] each cavity has a count of its own', () => {
  const story = given(...incised, count('cavity'));
  expect(story.about('uterus')).not.toContain('count-due cavity');
  expect(story.about('abdomen')).toContain('count-due closing');
});

test('[C7] with an equal total the ledger follows the eyes', () => {
  const story = given(...incised, count('closing', { swab: { field: 2, off: 3 } }));
  expect(story.balance('swab', 'table')).toBe(2);
  expect(story.balance('swab', 'off')).toBe(3);
});

test('[C7] a count does not bring a piece out of the patient', () => {
  const story = given(...incised, swabIn, count('closing', { swab: { field: 1, off: 4 } }));
  expect(story.balance('swab', 'patient/abdomen')).toBe(1);
  expect(story.balance('swab', 'off')).toBe(4);
  expect(story.holds('abdomen')).toContain('piece-inside');
});

test('[C7] fewer in sight than the ledger has inside leaves the split alone', () => {
  const twoIn = { ...swabIn, n: 2 } as const;
  const story = given(...incised, twoIn, count('closing', { swab: { field: 1, off: 4 } }));
  expect(story.balance('swab', 'table')).toBe(3);
  expect(story.balance('swab', 'off')).toBe(0);
});

test('[C8] the first recount that differs opens a discrepancy', () => {
  const differs = given(...incised, short);
  expect(differs.holds('abdomen')).toContain('count-differs');
  const open = differs.when(recount({ needle: { field: 1 } })).accepted();
  expect(open.holds('abdomen')).toContain('line-short');
  expect(open.holds('abdomen')).not.toContain('count-differs');
  const over = given(...incised, count('closing', { needle: { field: 3 } }));
  const more = over.when(recount({ needle: { field: 3 } })).accepted();
  expect(more.holds('abdomen')).toContain('line-over');
});

test('[C8] two recounts in a row that agree settle a line, one does not', () => {
  const once = given(...incised, short, recount({ needle: 'usual' }));
  expect(once.holds('abdomen')).toContain('count-differs');
  const twice = once.when(recount({ needle: 'usual' })).accepted();
  expect(twice.holds('abdomen')).not.toContain('count-differs');
  expect(twice.current.settled).toMatchObject([{ line: 'needle', how: 'agreed' }]);
});

test('[C8] a recount that differs between them starts the row again', () => {
  const broken = given(
    ...incised,
    short,
    recount({ needle: 'usual' }),
    recount({ needle: { field: 1 } }),
    recount({ needle: 'usual' }),
  );
  expect(broken.holds('abdomen')).toContain('line-short');
  const settled = broken.when(recount({ needle: 'usual' })).accepted();
  expect(settled.holds('abdomen')).not.toContain('line-short');
});

test('[C8] a line of a whole count that agrees is one agreeing recount', () => {
  const story = given(...incised, short, recount({ needle: 'usual' }), count('closing'));
  expect(story.holds('abdomen')).not.toContain('count-differs');
});

test('[C8] only a line that differed is recounted', () => {
  given(...incised)
    .when(recount({ needle: 'usual' }))
    .refused('not-differing');
  given(...incised, short)
    .when(recount({ mop: { field: 1 } }))
    .refused('unknown-line');
  given(...incised, short)
    .when(recount({ needle: { field: 1.5 } }))
    .refused('not-a-count');
  given(...incised, short)
    .when({ type: 'recount', lines: { needle: { field: 2 } }, by: ['scrub'] })
    .refused('two-people');
});

test('[C9] a relief owes a relief count, which only that count clears', () => {
  const relieved = given(...incised, relief);
  expect(relieved.holds('uterus')).toContain('relief-due');
  const counted = relieved.when(count('closing')).accepted();
  expect(counted.holds('abdomen')).toContain('relief-due');
  const done = relieved.when(count('relief')).accepted();
  expect(done.holds('abdomen')).not.toContain('relief-due');
  expect(done.current.counts.done.relief).toMatchObject({ by: ['Nuovo', 'Prueba'] });
});

test('[C9] the relief count is made by the two now in the roles', () => {
  given(...incised)
    .when({ type: 'beginCount', moment: 'relief' })
    .refused('no-relief');
  const relieved = given(...incised, relief);
  relieved.when({ type: 'beginCount', moment: 'relief', scrub: 'Testa' }).refused('two-people');
  relieved.when({ type: 'beginCount', moment: 'relief', scrub: 'Nuovo' }).accepted();
});

test('[C9] a short break and a relief of the surgeon owe none', () => {
  const short_ = given(...incised, { ...relief, short: true });
  expect(short_.holds('uterus')).not.toContain('relief-due');
  expect(short_.current.team.scrub).toBe('Nuovo');
  const surgeon = given(...incised, { ...relief, role: 'surgeon' });
  expect(surgeon.holds('uterus')).not.toContain('relief-due');
});

test('[C9] somebody takes over a role that there is, from another', () => {
  given()
    .when({ ...relief, to: '' })
    .refused('name-missing');
  given()
    .when({ ...relief, to: 'Testa' })
    .refused('same-person');
});

test.each<readonly [string, Done]>([
  ['a relief', relief],
  ['an addition', { type: 'add', line: 'loop', n: 1 }],
  ['a move into the patient', swabIn],
  ['a change of variant', { type: 'variant', to: 'open' }],
])('[C10] %s voids a running count', (_, done) => {
  const running = given(...incised, { type: 'beginCount', moment: 'closing' });
  const after = running.when(done).accepted();
  expect(after.current.counts.running).toBeUndefined();
  expect(after.current.counts.broken).toMatchObject({ moment: 'closing' });
  after.when({ type: 'agree' }).refused('no-count');
});

test('[C10] a change of variant voids a running first count: it would miss what is opened', () => {
  const running = given({ type: 'beginCount', moment: 'first' });
  const after = running.when({ type: 'variant', to: 'open' }).accepted();
  expect(after.current.counts.running).toBeUndefined();
  expect(linesOf(after.current, 'first')).toContain('open-tray');
});

test('[C11] a waived first count posts the tray list and lets the case go on', () => {
  const waive = { type: 'waive', moment: 'first', reason: 'bleeding' } as const;
  given().when(waive).refused('surgeon-missing');
  given()
    .when({ ...waive, by: ['surgeon', 'scrub'], reason: '' })
    .refused('reason-missing');
  const story = given()
    .when({ ...waive, by: ['surgeon', 'scrub'] })
    .accepted();
  expect(story.balance('swab', 'table')).toBe(5);
  expect(story.holds('abdomen')).not.toContain('baseline-open');
  expect(story.holds('sign-out')).toContain('xray-owed');
  expect(story.holds('skin')).not.toContain('xray-owed');
  story.when(count('first')).refused('count-waived');
});

test('[C11] a waived closing count holds no closure, and is a mark for good', () => {
  const story = given(...incised, {
    type: 'waive',
    moment: 'closing',
    reason: 'patient unstable',
    by: ['surgeon', 'circulator'],
  });
  expect(story.about('abdomen')).not.toContain('count-due closing');
  expect(story.current.counts.waivers).toMatchObject([{ moment: 'closing' }]);
});
