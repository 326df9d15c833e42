import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import { codes, decideClosures } from '#engine/closures/decide.ts';
import { evolveClosures } from '#engine/closures/evolve.ts';
import { staysOf } from '#engine/closures/handoverOf.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { isCountDue } from '#engine/counts/countsDue.ts';
import type { Sheet } from '#engine/sheet.ts';
import {
  checkpoint,
  closedUp,
  count,
  type Done,
  given,
  givenOn,
  incised,
  look,
  specimenGone,
} from '../support/given.ts';
import { step, storySheet } from '../support/storySheet.ts';

/** Corners of the closure decision that the stories of closures.test.ts pass by. */

const at = '2026-01-05T08:00:00+00:00';
const whole: readonly Done[] = [...incised, ...specimenGone, ...closedUp];
const move = (line: string, from: string, to: string, n = 1): Done => ({
  type: 'move',
  line,
  from,
  to,
  n,
});
const closeUterus: Done = { type: 'close', closure: 'uterus' };
const closedUterus: readonly Done[] = [count('cavity'), closeUterus];
const signOut: Done = { type: 'close', closure: 'sign-out' };

test('[X1] closing sign out asks for the checkpoint, and is then made once', () => {
  given(...whole)
    .when(signOut)
    .refused('checkpoint-open');
  const made = given(...whole, checkpoint('sign-out'))
    .when(signOut)
    .records({ type: 'closed', closure: 'sign-out' });
  made.when(signOut).refused('already-closed');
});

test('[X1] a refusal names each hold once', () => {
  expect(codes([{ code: 'look-open' }, { code: 'look-open' }, { code: 'count-due' }])).toBe(
    'look-open, count-due',
  );
  const { current } = given(...incised, ...closedUterus, count('closing'), ...specimenGone);
  const context = { at, by: 'Prueba', id: 'tap' };
  const answer = decideClosures(current, { type: 'close', closure: 'abdomen' }, context);
  expect(answer).toMatchObject({ ok: false, refusal: { code: 'held' } });
  expect(JSON.stringify(answer)).toContain('look-open');
});

test('[X1] there are no holds of a gate that there is not', () => {
  expect(holdsOf(given().current, 'knee')).toEqual([]);
});

test('[X1] what is neither command nor event of a closure is a fault', () => {
  const { current } = given();
  const strange = JSON.parse('{"type":"dance"}');
  expect(() => decideClosures(current, strange, { at, by: 'Prueba', id: 'x' })).toThrow(Fault);
  expect(() => evolveClosures(current, strange)).toThrow(Fault);
});

test('[X6] a step that is not known is refused before a closure that is made', () => {
  const story = given(...whole);
  const answers = { dry: 'dry', shoes: 'yes' };
  story.when({ type: 'look', closure: 'abdomen', answers }).refused('unknown-step');
  story
    .when({ type: 'look', closure: 'abdomen', answers: { dry: 'dry' } })
    .refused('already-closed');
});

test('[X5] a last look is taken back to what stood before', () => {
  const one = { type: 'look', closure: 'abdomen', answers: { dry: 'bleeding' } } as const;
  const looked = given(...incised, look('abdomen'), one);
  expect(looked.current.log).toMatchObject({ type: 'looked', subject: 'abdomen' });
  const back = looked.when({ type: 'correct', last: 1 }).accepted();
  expect(back.current.looks.abdomen?.dry).toMatchObject({ kind: 'given', value: 'dry' });
  const first = given(...incised, one, { type: 'correct', last: 1 });
  expect(first.current.looks).toEqual({});
});

test('[X7] what a closure is about stands in the log, and its end in the case', () => {
  const closed = given(...incised, ...closedUterus);
  expect(closed.current.log).toMatchObject({ type: 'closed', subject: 'uterus' });
  expect(closed.current.closures).toEqual({
    uterus: { closedAt: at, entry: closed.current.entry, reopened: [] },
  });
  const ended = given(...whole, checkpoint('sign-out'), { type: 'finish' });
  expect(ended.current.log).toMatchObject({ type: 'finished', subject: '' });
});

test('[X7] reopening is kept with its reason, each time, and only where it was closed', () => {
  const reopen = { type: 'reopen', closure: 'uterus', reason: 'bleeding' } as const;
  given(...incised)
    .when({ ...reopen, closure: 'knee' })
    .refused('unknown-closure');
  const once = given(...incised, ...closedUterus, reopen);
  expect(once.current.log).toMatchObject({ type: 'reopened', subject: 'uterus' });
  expect(Object.keys(once.current.closures)).toEqual(['uterus']);
  expect(once.current.closures.uterus?.reopened).toEqual([{ reason: 'bleeding', at }]);
  const twice = given(...incised, ...closedUterus, reopen, ...closedUterus, {
    ...reopen,
    reason: 'a stitch',
  });
  expect(twice.current.closures.uterus?.reopened).toEqual([
    { reason: 'bleeding', at },
    { reason: 'a stitch', at },
  ]);
});

test('[X7] reopening the skin leaves the look of the abdomen, and reopens sign out', () => {
  const story = given(...whole, checkpoint('sign-out'), {
    type: 'reopen',
    closure: 'skin',
    reason: 'a stitch',
  });
  expect(Object.keys(story.current.looks)).toEqual(['abdomen']);
  expect(story.current.checkpoints['sign-out']).toMatchObject({
    leader: 'Prueba',
    finishedAt: undefined,
    reopened: [{ reason: 'a stitch', at }],
  });
  expect(story.current.checkpoints['sign-in']?.finishedAt).toBe(at);
});

const pauseBefore = (before: string): Sheet => ({
  ...storySheet,
  checkpoints: [
    ...storySheet.checkpoints,
    { id: 'pause', name: 'Pause', before, leader: 'surgeon', present: [], steps: [] },
  ],
});

test('[X2] a checkpoint before a closure holds it and later ones, one before leaving sign out', () => {
  const abdomen = givenOn(pauseBefore('abdomen'), ...incised);
  expect(abdomen.about('uterus')).not.toContain('checkpoint-open pause');
  for (const gate of ['abdomen', 'skin', 'sign-out'])
    expect(abdomen.about(gate)).toContain('checkpoint-open pause');
  const leaving = givenOn(pauseBefore('leaving'), ...incised);
  expect(leaving.about('skin')).not.toContain('checkpoint-open pause');
  expect(leaving.about('sign-out')).toContain('checkpoint-open pause');
});

test('[X2] sign in and time out hold every closure', () => {
  expect(given().about('uterus')).toEqual(
    expect.arrayContaining(['checkpoint-open sign-in', 'checkpoint-open time-out']),
  );
  expect(given(...incised).about('sign-out')).not.toContain('checkpoint-open sign-out');
});

test('[X3] a closure that is made owes its count no longer, but sign out the last', () => {
  const aged = given(...incised, ...closedUterus, { type: 'add', line: 'loop', n: 1 });
  expect(aged.about('uterus')).not.toContain('count-due cavity');
  expect(aged.about('sign-out')).not.toContain('count-due cavity');
  const late = given(...whole, { type: 'add', line: 'loop', n: 1 });
  expect(late.about('skin')).not.toContain('count-due final');
  expect(late.about('sign-out').filter((one) => one.startsWith('count-due'))).toEqual([
    'count-due final',
  ]);
});

const sharing: Sheet = {
  ...storySheet,
  closures: storySheet.closures.map((one) => ({ ...one, count: 'closing', look: [] })),
};

test('[X3] a count serves one closure that asks for it, and no closure that asks for another', () => {
  const two = givenOn(sharing, ...incised, ...specimenGone, count('closing'), closeUterus);
  expect(two.about('abdomen')).toContain('count-due closing');
  const other = given(...incised, count('cavity'), count('closing'), closeUterus);
  expect(other.about('abdomen')).not.toContain('count-due closing');
});

test('[C11] a waived count is not used up by a closure', () => {
  const story = givenOn(
    sharing,
    ...incised,
    { type: 'waive', moment: 'closing', reason: 'unstable', by: ['surgeon', 'scrub'] },
    closeUterus,
  );
  expect(story.about('abdomen')).not.toContain('count-due closing');
});

test('[C6] a count is not made stale by its own entry', () => {
  const { current } = given(...incised, count('closing'));
  const entry = current.counts.done.closing?.entry ?? 0;
  const agedAt = (agedEntry: number) => isCountDue({ ...current, agedEntry }, 'closing');
  expect([agedAt(entry - 1), agedAt(entry), agedAt(entry + 1)]).toEqual([false, false, true]);
});

test('[X2] what stays in a site without its reason holds the closure of that site and later', () => {
  const story = given(
    ...incised,
    { type: 'add', line: 'drain', n: 1 },
    move('drain', 'table', 'patient/vagina'),
    move('drain', 'patient/vagina', 'stays'),
  );
  expect(story.about('abdomen')).not.toContain('stays-unexplained drain');
  expect(story.about('skin')).toContain('stays-unexplained drain');
});

test('[X9] what stayed and was taken out again is not handed over', () => {
  const stays: Done = {
    type: 'move',
    line: 'drain',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
    reason: 'pus',
    where: 'pelvis',
  };
  const story = given(
    ...incised,
    { type: 'add', line: 'drain', n: 1 },
    move('drain', 'table', 'patient/abdomen'),
    stays,
    move('drain', 'stays', 'patient/abdomen'),
  );
  expect(story.about('sign-out')).not.toContain('handover-open drain');
  expect(staysOf(story.current, 'drain')).toBe(0);
  expect(staysOf(given().current, 'drain')).toBe(0);
});

test('[X4] nothing is in use at sign out, nor in a site that no closure names', () => {
  const ports: Sheet = {
    ...storySheet,
    sites: [...storySheet.sites, { id: 'ear', name: 'Ear', kind: 'orifice' }],
    closures: storySheet.closures.map((one) => ({ ...one, inUse: ['seal'] })),
  };
  const abdomen = givenOn(ports, ...incised, move('seal', 'table', 'patient/abdomen'));
  expect(abdomen.about('abdomen')).not.toContain('piece-inside seal');
  expect(abdomen.about('sign-out')).toContain('piece-inside seal');
  const ear = givenOn(ports, ...incised, move('swab', 'table', 'patient/ear'));
  expect(ear.about('skin')).not.toContain('piece-inside swab');
  expect(ear.about('sign-out')).toContain('piece-inside swab');
});

const choice = (...ids: readonly string[]) =>
  ({ kind: 'choice', options: ids.map((id) => ({ id, name: id })) }) as const;
const lookSheet: Sheet = {
  ...storySheet,
  closures: storySheet.closures.map((one) => ({
    ...one,
    look: [
      step('dry', choice('dry', 'bleeding'), { mayNotApply: true }),
      step('clip', choice('on', 'off'), { when: { step: 'dry', is: ['bleeding'] } }),
      step('wash', choice('done', 'none'), { when: { step: 'dry' } }),
      step('port', choice('seen'), { when: { variant: ['open'] } }),
    ],
  })),
};
const looked = (answers: Readonly<Record<string, string | { readonly notApplicable: string }>>) =>
  givenOn(lookSheet, ...incised, { type: 'look', closure: 'uterus', answers })
    .about('uterus')
    .includes('look-open uterus');

test('[X6] a step of the last look is asked by variant and by an earlier answer', () => {
  expect(looked({})).toBe(true);
  expect(looked({ dry: 'dry' })).toBe(true);
  expect(looked({ dry: 'dry', wash: 'done' })).toBe(false);
  expect(looked({ dry: 'bleeding', wash: 'done' })).toBe(true);
  expect(looked({ dry: 'bleeding', wash: 'done', clip: 'on' })).toBe(false);
  expect(looked({ dry: { notApplicable: 'no wound' } })).toBe(false);
});

test('[X4] in use is allowed at the first closure as well', () => {
  const sheet: Sheet = {
    ...storySheet,
    closures: storySheet.closures.map((one) => ({ ...one, inUse: ['seal'] })),
  };
  const story = givenOn(sheet, ...incised, move('seal', 'table', 'patient/uterus'));
  expect(story.about('uterus')).not.toContain('piece-inside seal');
  expect(story.about('abdomen')).not.toContain('piece-inside seal'); // which says so too
});

test('[L11] a fragment elsewhere makes no fragment of a swab inside', () => {
  const broken: Done = { type: 'break', line: 'needle', at: 'table', into: 2 };
  const story = given(...incised, broken, move('swab', 'table', 'patient/uterus'));
  expect(story.about('uterus')).toContain('piece-inside swab');
});

test.each([0, 1, 2, 3, 4, 5])(
  '[S9] a specimen %s steps on holds no closure of another site',
  (n) => {
    const story = given(...incised, ...specimenGone.slice(0, n), count('cavity'));
    expect(story.about('uterus')).toEqual([]);
  },
);

test('[S9] a specimen without its label holds the last closure', () => {
  const story = given(...incised, ...specimenGone.slice(0, 1));
  expect(story.about('skin')).toContain('specimen-unlabelled lump');
});

test('[X3] a count made after the closure that used one serves the next', () => {
  const again = [...incised, count('closing'), closeUterus, count('closing')];
  expect(givenOn(sharing, ...again).about('abdomen')).not.toContain('count-due closing');
});

test('[X2] what stays from the table, in no site, holds every closure', () => {
  const story = given(...incised, move('needle', 'table', 'stays'));
  for (const gate of ['uterus', 'abdomen', 'skin', 'sign-out'])
    expect(story.about(gate)).toContain('stays-unexplained needle');
});

test('[X9] what was left by decision is handed over; a knot is not', () => {
  const needle = given(...incised, move('needle', 'table', 'patient/abdomen'), {
    type: 'explain',
    line: 'needle',
    reason: 'in bone',
    by: ['surgeon', 'scrub'],
  });
  expect(needle.about('sign-out')).toContain('handover-open needle');
  const knot = given(
    ...incised,
    { type: 'add', line: 'loop', n: 1 },
    move('loop', 'table', 'patient/abdomen'),
    { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
  );
  expect(knot.current.left.ligature).toMatchObject([{ n: 1 }]);
  expect(knot.holds('sign-out')).not.toContain('handover-open');
});
