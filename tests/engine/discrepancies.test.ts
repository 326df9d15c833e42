import { expect, test } from 'vitest';
import { filmWorth } from '#engine/discrepancies/filmWorth.ts';
import { introducedOf } from '#engine/ledger.ts';
import { discrepancySteps } from '#engine/state.ts';
import { count, type Done, given, incised, look, recount } from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

const short: readonly Done[] = [
  ...incised,
  count('closing', { needle: { field: 1 } }),
  recount({ needle: { field: 1 } }),
];
const over: readonly Done[] = [
  ...incised,
  count('closing', { needle: { field: 3 } }),
  recount({ needle: { field: 3 } }),
];
const steps: readonly Done[] = discrepancySteps.map((step) =>
  step === 'xray'
    ? { type: 'discrepancy', line: 'needle', step, skip: 'no film in the room' }
    : { type: 'discrepancy', line: 'needle', step, by: 'circulator' },
);
const declare = {
  type: 'declare',
  line: 'needle',
  n: 1,
  reason: 'not found',
  by: ['surgeon', 'scrub'],
} as const;
const found = { type: 'discrepancy', line: 'needle', step: 'found', place: 'off' } as const;
const film = {
  type: 'xray',
  wholeField: true,
  result: 'nothing-seen',
  readBy: 'Doctor R',
} as const;

test('[D1] each step has who and when, or the reason why not', () => {
  const told = given(...short, {
    type: 'discrepancy',
    line: 'needle',
    step: 'surgeon-told',
    by: 'surgeon',
  });
  expect(told.current.differing.needle?.steps['surgeon-told']).toMatchObject({ by: 'Ensayo' });
  const skipped = given(...short, {
    type: 'discrepancy',
    line: 'needle',
    step: 'xray',
    skip: 'patient unstable',
  });
  expect(skipped.current.differing.needle?.steps.xray).toMatchObject({
    skipped: 'patient unstable',
  });
});

test('[D1] reading the film is a step, with who read it', () => {
  const xray = { type: 'discrepancy', line: 'needle', step: 'xray' } as const;
  given(...short)
    .when(xray)
    .refused('name-missing');
  const read = given(...short)
    .when({ ...xray, readBy: 'Doctor R', wholeField: true, result: 'nothing-seen' })
    .warned('film-negative');
  expect(read.current.differing.needle?.steps.xray).toMatchObject({ by: 'Doctor R' });
});

test('[D2] a line that only differed has no discrepancy yet', () => {
  const told = { type: 'discrepancy', line: 'needle', step: 'surgeon-told' } as const;
  given(...incised)
    .when(told)
    .refused('no-discrepancy');
  given(...incised, count('closing', { needle: { field: 1 } }))
    .when(told)
    .refused('no-discrepancy');
  given(...short)
    .when(told)
    .accepted();
  given(...short)
    .when({ ...told, line: 'mop' })
    .refused('unknown-line');
});

test('[D2] while it waits for its recount, nothing says which way it differs', () => {
  const answers = [1, 3].map((field) => {
    const story = given(...incised, count('closing', { needle: { field } }));
    story.when(found).refused('no-discrepancy');
    story.when({ ...declare }).refused('no-discrepancy');
    return story.holds('abdomen');
  });
  expect(answers[0]).toEqual(answers[1]);
});

test('[D3] a piece found is taken from where the ledger has it, and settles nothing by itself', () => {
  const story = given(...short)
    .when(found)
    .records({ type: 'found', from: 'table', place: 'off' });
  expect(story.balance('needle', 'table')).toBe(1);
  expect(story.balance('needle', 'off')).toBe(1);
  expect(story.holds('abdomen')).toContain('line-short');
  const once = story.when(recount({ needle: 'usual' })).accepted();
  expect(once.holds('abdomen')).toContain('line-short');
  const twice = once.when(recount({ needle: 'usual' })).accepted();
  expect(twice.holds('abdomen')).not.toContain('line-short');
});

test('[D3] where the ledger has the line in several places it must be said which', () => {
  const oneIn = {
    type: 'move',
    line: 'needle',
    from: 'table',
    to: 'patient/abdomen',
    n: 1,
  } as const;
  const story = given(
    ...incised,
    oneIn,
    count('closing', { needle: { field: 1, off: 0 } }),
    recount({ needle: { field: 1 } }),
    look('abdomen'),
  );
  story.when(found).refused('which-place');
  const out = story.when({ ...found, from: 'patient/abdomen' }).accepted();
  expect(out.balance('needle', 'patient/abdomen')).toBe(0);
  expect(out.holds('abdomen')).toContain('look-open'); // what is inside changed
});

test('[D3] finding ages only its own line', () => {
  const story = given(...short, found, recount({ needle: 'usual' }), recount({ needle: 'usual' }));
  expect(story.about('abdomen')).not.toContain('count-due closing');
});

test('[D3] nothing is found where there is one too many', () => {
  given(...over)
    .when(found)
    .refused('discrepancy-over');
});

test('[D4] a declaration needs every step, a reason, the surgeon and one other', () => {
  given(...short)
    .when(declare)
    .refused('steps-open');
  given(...short, ...steps)
    .when({ ...declare, reason: ' ' })
    .refused('reason-missing');
  given(...short, ...steps)
    .when({ ...declare, by: ['surgeon'] })
    .refused('surgeon-missing');
  given(...short, ...steps)
    .when({ ...declare, by: ['scrub', 'circulator'] })
    .refused('surgeon-missing');
  given(...short, ...steps)
    .when({ ...declare, n: 2 })
    .refused('not-enough');
  given(...over, ...steps)
    .when(declare)
    .refused('discrepancy-over');
});

test('[D4] a declared piece is missing, and the line holds no longer', () => {
  const story = given(...short, ...steps)
    .when(declare)
    .accepted();
  expect(story.balance('needle', 'missing')).toBe(1);
  expect(story.holds('abdomen')).not.toContain('line-short');
  expect(story.current.missing).toMatchObject([{ why: 'declared', by: ['Ensayo', 'Testa'] }]);
});

test('[D5] an excess is amended by scrub, circulator and surgeon, in writing', () => {
  const amend = {
    type: 'amend',
    line: 'needle',
    n: 1,
    reason: 'a packet held two',
    by: ['scrub', 'circulator', 'surgeon'],
  } as const;
  given(...over)
    .when({ ...amend, by: ['scrub', 'surgeon'] })
    .refused('two-people');
  given(...over)
    .when({ ...amend, by: ['scrub', 'circulator'] })
    .refused('surgeon-missing');
  given(...over)
    .when({ ...amend, reason: '' })
    .refused('reason-missing');
  given(...over)
    .when({ ...amend, n: 2 })
    .refused('not-enough');
  given(...short)
    .when(amend)
    .refused('discrepancy-short');
  const story = given(...over, amend);
  expect(introducedOf(story.current.ledger, 'needle')).toBe(3);
  expect(story.holds('abdomen')).toContain('line-over'); // two recounts settle it
  const settled = given(...over, amend, recount({ needle: 'usual' }), recount({ needle: 'usual' }));
  expect(settled.holds('abdomen')).not.toContain('line-over');
});

test('[D5] adding does not settle an excess', () => {
  const story = given(...over);
  story.when({ type: 'add', line: 'needle', n: 1 }).refused('discrepancy-over');
  expect(story.holds('abdomen')).toContain('line-over');
});

test.each([
  [4, 'poor'],
  [10, 'poor'],
  [11, 'poor'],
  [12.9, 'poor'],
  [13, 'shows'],
  [26, 'shows'],
])('[D6] a needle of %d mm on a film: %s', (sizeMm, level) => {
  const needle = line('needle', { film: 'yes' });
  expect(filmWorth(needle, storySheet.policy, sizeMm).level).toBe(level);
});

test('[D6] what a film does not show cannot be cleared by it, and unknown is said', () => {
  const { policy } = storySheet;
  expect(filmWorth(line('seal', { film: 'no', sizeMm: 100 }), policy).level).toBe('none');
  expect(filmWorth(line('cable', { film: 'varies', sizeMm: 100 }), policy).level).toBe('unknown');
  expect(filmWorth(line('thing', { film: 'yes' }), policy).level).toBe('unknown');
});

test('[D7] a film settles nothing, whole field or not', () => {
  const negative = given(...short)
    .when({ ...film, line: 'needle' })
    .warned('film-negative');
  expect(negative.holds('abdomen')).toContain('line-short');
  const part = given(...short)
    .when({ ...film, line: 'needle', wholeField: false })
    .warned('film-part');
  expect(part.current.differing.needle?.steps.xray).toBeUndefined();
  given(...short)
    .when({ ...film, readBy: '' })
    .refused('name-missing');
});

test('[D7] a declaration without a film owes one, which holds only sign out', () => {
  const story = given(...short, ...steps, declare);
  expect(story.holds('sign-out')).toContain('xray-owed');
  expect(story.holds('skin')).not.toContain('xray-owed');
  expect(
    story
      .when({ ...film, wholeField: false })
      .accepted()
      .holds('sign-out'),
  ).toContain('xray-owed');
  expect(story.when(film).accepted().holds('sign-out')).not.toContain('xray-owed');
});

test('[D7] an unstable patient leaves by name and reason; the film stays owed', () => {
  const defer = { type: 'deferXray', reason: 'unstable', by: ['surgeon', 'anaesthetist'] } as const;
  given(...incised)
    .when(defer)
    .refused('no-xray-owed');
  given(...short, ...steps, declare)
    .when({ ...defer, by: ['surgeon'] })
    .refused('surgeon-missing');
  const story = given(...short, ...steps, declare, defer);
  expect(story.holds('sign-out')).not.toContain('xray-owed');
  expect(story.current.deferral).toMatchObject({ reason: 'unstable' });
});

test('[D7] what was declared and then found owes no film', () => {
  const story = given(...short, ...steps, declare)
    .when(found)
    .records({ from: 'missing' });
  expect(story.holds('sign-out')).not.toContain('xray-owed');
  expect(story.current.missing).toEqual([]);
});
