import { expect, test } from 'vitest';
import { introducedOf } from '#engine/ledger.ts';
import { closedUp, count, type Done, given, incised, look } from '../support/given.ts';

const loopIn: readonly Done[] = [
  { type: 'add', line: 'loop', n: 1 },
  { type: 'move', line: 'loop', from: 'table', to: 'patient/abdomen', n: 1 },
];
const placed = {
  type: 'turn',
  line: 'loop',
  turn: 'placed',
  at: 'patient/abdomen',
  n: 1,
} as const;
const drainIn: readonly Done[] = [
  { type: 'add', line: 'drain', n: 1 },
  { type: 'move', line: 'drain', from: 'table', to: 'patient/abdomen', n: 1 },
];
const needleIn = {
  type: 'move',
  line: 'needle',
  from: 'table',
  to: 'patient/abdomen',
  n: 1,
} as const;
const broken = { type: 'break', line: 'needle', at: 'patient/abdomen', into: 2 } as const;

test('[L7] nothing is put into a closed site; it can be reopened with a reason', () => {
  const into = { type: 'move', line: 'swab', from: 'table', to: 'patient/uterus', n: 1 } as const;
  const closed = given(...incised, count('cavity'), { type: 'close', closure: 'uterus' });
  closed.when(into).refused('site-closed');
  closed
    .when({ type: 'carriedIn', line: 'faecolith', n: 1, site: 'uterus', from: 'seen' })
    .refused('site-closed');
  closed.when({ type: 'reopen', closure: 'uterus', reason: '' }).refused('reason-missing');
  const open = closed.when({ type: 'reopen', closure: 'uterus', reason: 'oozing' }).accepted();
  expect(open.state('uterus')).not.toBe('done');
  open.when(into).accepted();
});

test('[L8] what is in the patient from the start must come out like anything else', () => {
  const story = given(...incised, {
    type: 'carriedIn',
    line: 'faecolith',
    n: 3,
    site: 'abdomen',
    from: 'imaging',
  });
  expect(story.balance('faecolith', 'patient/abdomen')).toBe(3);
  expect(story.holds('abdomen')).toContain('piece-inside');
});

test('[L8] the surgeon may say that a search showed none', () => {
  const none = { type: 'searchedNone', line: 'faecolith', n: 1, site: 'abdomen' } as const;
  const story = given(...incised, {
    type: 'carriedIn',
    line: 'faecolith',
    n: 1,
    site: 'abdomen',
    from: 'imaging',
  });
  story.when({ ...none, reason: '' }).refused('reason-missing');
  story.when({ ...none, reason: 'not there', by: 'scrub' }).refused('surgeon-missing');
  story.when({ ...none, reason: 'not there', n: 2 }).refused('not-enough');
  const said = story.when({ ...none, reason: 'not there' }).accepted();
  expect(said.balance('faecolith', 'missing')).toBe(1);
  expect(said.holds('abdomen')).not.toContain('piece-inside');
});

test('[L8] nobody searches in vain for what went in here, nor for a pack of an earlier operation', () => {
  const none = { type: 'searchedNone', site: 'abdomen', n: 1, reason: 'not felt' } as const;
  const swabIn = {
    type: 'move',
    line: 'swab',
    from: 'table',
    to: 'patient/abdomen',
    n: 1,
  } as const;
  given(...incised, swabIn)
    .when({ ...none, line: 'swab' })
    .refused('not-carried-in');
  given(...incised, {
    type: 'carriedIn',
    line: 'old-pack',
    n: 1,
    site: 'abdomen',
    from: 'earlier-operation',
  })
    .when({ ...none, line: 'old-pack' })
    .refused('earlier-operation');
});

test('[L9] what stays without its reason is accepted and held until it is explained', () => {
  const stays = {
    type: 'move',
    line: 'drain',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
  } as const;
  const story = given(...incised, ...drainIn)
    .when(stays)
    .accepted();
  expect(story.holds('abdomen')).toContain('stays-unexplained');
  const half = story.when({ type: 'explain', line: 'drain', reason: 'pus' }).accepted();
  expect(half.holds('abdomen')).toContain('stays-unexplained'); // where is not said
  const whole = half.when({ type: 'explain', line: 'drain', where: 'pelvis' }).accepted();
  expect(whole.holds('abdomen')).not.toContain('stays-unexplained');
});

test('[L9] an implant stays with its lot number, a knot with nothing', () => {
  const implant: readonly Done[] = [
    { type: 'add', line: 'implant', n: 1 },
    { type: 'move', line: 'implant', from: 'table', to: 'patient/abdomen', n: 1 },
  ];
  const stays = {
    type: 'move',
    line: 'implant',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
  } as const;
  const bare = given(...incised, ...implant, stays);
  expect(bare.holds('abdomen')).toContain('stays-unexplained');
  const labelled = given(...incised, ...implant, { ...stays, lot: 'LOT-1' });
  expect(labelled.holds('abdomen')).not.toContain('stays-unexplained');
  const knot = given(...incised, ...loopIn, placed);
  expect(knot.holds('abdomen')).not.toContain('stays-unexplained');
});

test('[L9] what may not stay is left only by the surgeon and one other', () => {
  const explain = { type: 'explain', line: 'needle', reason: 'in bone' } as const;
  const story = given(...incised, needleIn);
  story.when(explain).refused('surgeon-missing');
  story.when({ ...explain, by: ['surgeon'] }).refused('surgeon-missing');
  story.when({ ...explain, by: ['scrub', 'circulator'] }).refused('surgeon-missing');
  const left = story.when({ ...explain, by: ['surgeon', 'scrub'] }).accepted();
  expect(left.balance('needle', 'stays')).toBe(1);
  expect(left.holds('abdomen')).not.toContain('stays-unexplained');
  expect(left.current.left.needle).toMatchObject([{ decidedBy: ['Ensayo', 'Testa'] }]);
});

test('[L9] a plain move to stays of what may not stay is held', () => {
  const story = given(...incised, needleIn, {
    type: 'move',
    line: 'needle',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
    reason: 'said by one',
  });
  expect(story.holds('abdomen')).toContain('stays-unexplained');
});

test('[L10] a loop that is placed ends, and three pieces begin in their places', () => {
  const story = given(...incised, ...loopIn)
    .when(placed)
    .records({ type: 'turned', n: 1 });
  expect(introducedOf(story.current.ledger, 'loop')).toBe(0);
  expect(story.balance('ligature', 'stays')).toBe(1);
  expect(story.balance('pusher', 'patient/abdomen')).toBe(1);
  expect(story.balance('end-piece', 'table')).toBe(1);
  expect(story.holds('abdomen')).toContain('piece-inside'); // the pusher
});

test('[L10] a reel is cut into as many lengths as were said', () => {
  const cut = { type: 'turn', line: 'reel', turn: 'cut', at: 'table', n: 1 } as const;
  const reel = given(...incised, { type: 'add', line: 'reel', n: 1 });
  reel.when(cut).refused('not-a-quantity');
  const story = reel.when({ ...cut, into: 4 }).accepted();
  expect(introducedOf(story.current.ledger, 'strand')).toBe(4);
  expect(story.balance('reel', 'changed')).toBe(1);
  expect(story.balance('strand', 'changed')).toBe(-4);
});

test('[L10] a piece turns where the sheet says, and there must be one', () => {
  given(...incised, ...loopIn)
    .when({ ...placed, at: 'table' })
    .refused('wrong-place');
  given(...incised)
    .when(placed)
    .refused('not-enough');
  given(...incised, ...loopIn)
    .when({ ...placed, turn: 'bent' })
    .refused('unknown-turn');
});

test('[L10] a counted swab is neither cut nor broken', () => {
  const story = given(...incised);
  story
    .when({ type: 'turn', line: 'swab', turn: 'cut', at: 'table', n: 1, into: 2 })
    .refused('not-cuttable');
  story.when({ type: 'break', line: 'swab', at: 'table', into: 2 }).refused('not-cuttable');
});

test('[L11] a broken needle is two fragments, and one hold until both are out', () => {
  const story = given(...incised, needleIn)
    .when(broken)
    .accepted();
  expect(story.balance('needle-fragment', 'patient/abdomen')).toBe(2);
  expect(story.holds('abdomen')).toContain('fragment-open');
  expect(story.holds('abdomen')).not.toContain('piece-inside');
  const out = story
    .when({
      type: 'move',
      line: 'needle-fragment',
      from: 'patient/abdomen',
      to: 'off',
      n: 2,
    })
    .accepted();
  expect(out.holds('abdomen')).not.toContain('fragment-open');
});

test('[L11] lengths that do not make the whole needle hold until two accept it', () => {
  const short = { ...broken, at: 'table', lengths: [15, 10] } as const;
  const story = given(...incised)
    .when(short)
    .accepted();
  expect(story.holds('abdomen')).toContain('fragment-open');
  const said = { type: 'explain', line: 'needle-fragment', reason: 'measured roughly' } as const;
  story.when({ ...said, by: ['scrub'] }).refused('surgeon-missing');
  const accepted = story.when({ ...said, by: ['surgeon', 'scrub'] }).accepted();
  expect(accepted.holds('abdomen')).not.toContain('fragment-open');
  const whole = given(...incised, { ...short, lengths: [15, 11] });
  expect(whole.holds('abdomen')).not.toContain('fragment-open');
});

test('[L11] a fragment has a length, and a break gives two or more', () => {
  const story = given(...incised);
  story.when({ ...broken, at: 'table', into: 1 }).refused('not-a-quantity');
  story.when({ ...broken, at: 'table', lengths: [26] }).refused('not-a-number');
  story.when({ ...broken, at: 'table', lengths: [26, 0] }).refused('not-a-number');
  story.when({ ...broken, at: 'stays' }).refused('wrong-place');
});

test('[L13] what a conversion opens is on the table and can be used', () => {
  const story = given(...incised)
    .when({ type: 'variant', to: 'open' })
    .accepted();
  expect(story.balance('open-tray', 'table')).toBe(4);
  story
    .when({ type: 'move', line: 'large-swab', from: 'table', to: 'patient/abdomen', n: 2 })
    .accepted();
  story.when({ type: 'variant', to: 'open' }).refused('already-done');
  story.when({ type: 'variant', to: 'robot' }).refused('unknown-variant');
});

test('[X11] a tray opened at a conversion holds every closure until it is counted in', () => {
  const story = given(...incised, { type: 'variant', to: 'open' });
  for (const gate of ['uterus', 'abdomen', 'skin', 'sign-out'])
    expect(story.holds(gate)).toContain('baseline-open');
  const counted = story.when(count('added')).accepted();
  expect(counted.holds('uterus')).not.toContain('baseline-open');
  counted.when(count('added')).refused('nothing-to-count');
});

test('[X11] pieces of a new tray that are inside and unseen do not lower its baseline', () => {
  const story = given(
    ...incised,
    { type: 'variant', to: 'open' },
    { type: 'move', line: 'large-swab', from: 'table', to: 'patient/abdomen', n: 2 },
    count('added'),
  );
  expect(introducedOf(story.current.ledger, 'large-swab')).toBe(5);
  expect(story.balance('large-swab', 'patient/abdomen')).toBe(2);
  expect(story.balance('large-swab', 'table')).toBe(3);
});

test('[L13] a conversion counted in at once is no exception, one counted in late is', () => {
  const ended = (...between: readonly Done[]) =>
    given(
      ...incised,
      { type: 'variant', to: 'open' },
      ...between,
      count('added'),
      { type: 'specimen', id: 'lump', step: 'notTaken', reason: 'other disease found' },
      ...closedUp,
      { type: 'beginCheckpoint', id: 'sign-out' },
      { type: 'finishCheckpoint', id: 'sign-out' },
      { type: 'finish' },
    ).verdict();
  expect(ended()).toBe('reconciled');
  const used: readonly Done[] = [
    { type: 'move', line: 'large-swab', from: 'table', to: 'patient/abdomen', n: 1 },
    { type: 'move', line: 'large-swab', from: 'patient/abdomen', to: 'table', n: 1 },
  ];
  expect(ended(...used)).toBe('reconciled-with-record');
});

test('[X5] leaving or taking back what stays asks the last look again', () => {
  const story = given(...incised, ...drainIn, look('abdomen'));
  expect(story.holds('abdomen')).not.toContain('look-open');
  const left = story
    .when({ type: 'move', line: 'drain', from: 'patient/abdomen', to: 'stays', n: 1 })
    .accepted();
  expect(left.holds('abdomen')).toContain('look-open');
});
