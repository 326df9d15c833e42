import { expect, test } from 'vitest';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { exceptionsOf, piecesInside } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import {
  checkpoint,
  closedUp,
  count,
  type Done,
  givenOn,
  incised,
  recount,
  specimenGone,
} from '../support/given.ts';
import { namedSheet } from '../support/storySheet.ts';

/** What a hold and a lasting exception say: the sentence, who can settle it, and where. */

const storyOf = (...done: readonly Done[]) => givenOn(namedSheet, ...done);
const said = (gate: string, code: string, ...done: readonly Done[]) =>
  holdsOf(storyOf(...done).current, gate)
    .filter((hold) => hold.code === code)
    .map(({ about, title, detail, who, screen }) => [about, title, detail, who, screen]);

const move = (line: string, from: string, to: string, n = 1): Done => ({
  type: 'move',
  line,
  from,
  to,
  n,
});
const both = 'scrub and circulator';

test('[X1] a checkpoint and a count that are open say who and where', () => {
  expect(said('uterus', 'checkpoint-open')).toEqual([
    ['sign-in', 'Sign in not finished', 'Read it aloud together', 'circulator', 'checkpoint'],
    ['time-out', 'Time out not finished', 'Read it aloud together', 'surgeon', 'checkpoint'],
  ]);
  expect(said('uterus', 'baseline-open')).toEqual([
    ['first', 'First count not agreed', 'Count everything that is open', both, 'count'],
  ]);
  const due = ['cavity', 'The cavity not done', 'Count together, aloud', both, 'count'];
  expect(said('uterus', 'count-due', ...incised)).toEqual([due]);
});

test('[X1] a count that is running or out of date is said to be so', () => {
  const begin: Done = { type: 'beginCount', moment: 'cavity' };
  expect(said('abdomen', 'count-due', ...incised, begin)).toEqual([
    ['cavity', 'The cavity not done', 'It is running', both, 'count'],
    ['closing', 'The closing not done', 'Count together, aloud', both, 'count'],
  ]);
  const loop: Done = { type: 'add', line: 'loop', n: 1 };
  expect(said('uterus', 'count-due', ...incised, count('cavity'), loop)).toEqual([
    ['cavity', 'The cavity out of date', 'Count together, aloud', both, 'count'],
  ]);
});

test('[X1] a count that the sheet does not name is named by its moment', () => {
  expect(momentName(storyOf().current, 'closing')).toBe('The closing');
  expect(momentName(storyOf().current, 'relief')).toBe('relief count');
});

test('[X11] what was opened and not counted in is named', () => {
  const opened: Done = { type: 'variant', to: 'open' };
  expect(said('uterus', 'baseline-open', ...incised, opened)).toEqual([
    ['added', 'Opened and not counted in', 'The open-tray, The large-swab', both, 'count'],
  ]);
});

test('[C9] a relief that is owed names who took over', () => {
  const relief: Done = { type: 'relief', role: 'scrub', to: 'Nuovo' };
  expect(said('uterus', 'relief-due', ...incised, relief)).toEqual([
    ['scrub', 'Relief count not done', 'Nuovo has taken over as scrub', both, 'count'],
  ]);
});

const shortNeedle = count('closing', { needle: { field: 1 } });

test('[C8] while a line waits for its recounts, no more is said than that it does not agree', () => {
  expect(said('abdomen', 'count-differs', ...incised, shortNeedle)).toEqual([
    ['needle', 'The needle does not agree', 'Count it again, roles swapped', both, 'recount'],
  ]);
  const once = [...incised, shortNeedle, recount({ needle: 'usual' })];
  expect(said('abdomen', 'count-differs', ...once)).toEqual([
    ['needle', 'The needle does not agree', 'Count it once more', both, 'recount'],
  ]);
});

test('[D2] an open discrepancy says which way and by how much', () => {
  const three = 'surgeon, scrub and circulator';
  const short = [...incised, shortNeedle, recount({ needle: { field: 1 } })];
  expect(said('abdomen', 'line-short', ...short)).toEqual([
    ['needle', 'The needle short by 1', 'Find it, or X-ray and declare', three, 'discrepancy'],
  ]);
  const over = [
    ...incised,
    count('closing', { needle: { field: 4 } }),
    recount({ needle: { field: 4 } }),
  ];
  const todo = 'Find what was not recorded, and amend';
  expect(said('abdomen', 'line-over', ...over)).toEqual([
    ['needle', 'The needle over by 2', todo, three, 'discrepancy'],
  ]);
});

test('[X4] a piece inside says how many, where, and whether it may stay', () => {
  const who = 'surgeon and scrub';
  const swabs = [
    move('swab', 'table', 'patient/uterus'),
    move('swab', 'table', 'patient/abdomen', 2),
  ];
  expect(said('abdomen', 'piece-inside', ...incised, ...swabs)).toEqual([
    ['swab', 'The swab: 3 in the uterus', 'Take it out', who, 'frame'],
  ]);
  const drain: readonly Done[] = [
    { type: 'add', line: 'drain', n: 1 },
    move('drain', 'table', 'patient/abdomen'),
  ];
  const todo = 'Take it out, or leave it on purpose';
  expect(said('abdomen', 'piece-inside', ...incised, ...drain)).toEqual([
    ['drain', 'The drain: 1 in the abdomen', todo, who, 'frame'],
  ]);
});

test('[L11] fragments whose lengths do not add up say so', () => {
  const broken: Done = { type: 'break', line: 'needle', at: 'table', into: 2, lengths: [10, 12] };
  const holds = holdsOf(storyOf(...incised, broken).current, 'uterus');
  expect(holds.filter((hold) => hold.code === 'fragment-open')).toMatchObject([
    {
      title: 'The needle: fragments do not add up',
      detail: 'Their lengths do not make the whole piece: search for the rest',
      who: 'surgeon and scrub',
      screen: 'frame',
    },
  ]);
});

test('[L9] what stays without its reason says who may say it', () => {
  const drain: readonly Done[] = [
    { type: 'add', line: 'drain', n: 1 },
    move('drain', 'table', 'patient/abdomen'),
    move('drain', 'patient/abdomen', 'stays'),
  ];
  expect(said('abdomen', 'stays-unexplained', ...incised, ...drain)).toEqual([
    ['drain', 'The drain stays without a reason', 'Say why and where', 'surgeon', 'frame'],
  ]);
  const needle = [
    move('needle', 'table', 'patient/abdomen'),
    move('needle', 'patient/abdomen', 'stays'),
  ];
  const two = 'It may not stay: surgeon and one other';
  expect(said('abdomen', 'stays-unexplained', ...incised, ...needle)).toEqual([
    ['needle', 'The needle stays without a reason', two, 'surgeon', 'frame'],
  ]);
});

test('[X5] the last look and an inner closure that are open name their closure', () => {
  expect(said('abdomen', 'look-open', ...incised)).toEqual([
    ['abdomen', "Surgeon's last look", 'Abdomen', 'surgeon', 'look'],
  ]);
  expect(said('abdomen', 'closure-order', ...incised)).toEqual([
    ['uterus', 'Uterus is still open', 'Close it first', 'surgeon', 'closure'],
  ]);
});

const waived: Done = {
  type: 'waive',
  moment: 'cavity',
  reason: 'unstable',
  by: ['surgeon', 'scrub'],
};
const drainStays: readonly Done[] = [
  { type: 'add', line: 'drain', n: 1 },
  move('drain', 'table', 'patient/abdomen'),
  {
    type: 'move',
    line: 'drain',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
    reason: 'pus',
    where: 'pelvis',
  },
];

test('[D7] [X9] what holds only the leaving says who and where', () => {
  const film = 'Read before the patient leaves, whole field shown';
  expect(said('sign-out', 'xray-owed', ...incised, waived)).toEqual([
    ['xray', 'An X-ray is owed', film, 'surgeon', 'xray'],
  ]);
  const todo = 'To whom, and when it comes out';
  expect(said('sign-out', 'handover-open', ...incised, ...drainStays)).toEqual([
    ['drain', 'The drain not handed over', todo, 'surgeon and circulator', 'handover'],
  ]);
});

const torn: Done = { type: 'specimen', id: 'lump', step: 'taken', pieces: 2, whole: false };
const part = 'Find the rest, or the surgeon says why it stays';
const onIt: readonly Done[] = specimenGone.slice(1);

test('[S9] of a specimen the first thing that is open is said', () => {
  const open = (n: number) =>
    holdsOf(storyOf(...incised, ...specimenGone.slice(0, n)).current, 'sign-out')
      .filter((hold) => hold.screen === 'specimen')
      .map((hold) => [hold.code, hold.title, hold.detail, hold.who]);
  const unlabelled = ['A Lump not labelled', 'Into its pot, then the label', 'circulator'];
  expect(open(0)).toEqual([
    ['specimen-inside', 'A Lump not yet out', 'Take the specimen', 'surgeon'],
  ]);
  expect(open(1)).toEqual([['specimen-unlabelled', ...unlabelled]]);
  expect(open(2)).toEqual([['specimen-unlabelled', ...unlabelled]]);
  expect(open(3)).toEqual([
    [
      'specimen-unread',
      'A Lump not read back',
      'A second person reads the label',
      'scrub or surgeon',
    ],
  ]);
  expect(open(4)).toEqual([
    ['specimen-here', 'A Lump not handed over', 'Say who takes it', 'circulator'],
  ]);
  expect(open(5)).toEqual([]);
});

test.each([0, 1, 2, 3, 4])('[S9] what is not whole holds as inside, %s steps on', (steps) => {
  const done = [...incised, torn, ...onIt.slice(0, steps)];
  expect(said('abdomen', 'specimen-inside', ...done)).toEqual([
    ['lump', 'A Lump not whole', part, 'surgeon', 'specimen'],
  ]);
});

test('[S9] a part that stays by the word of the surgeon is no more held as inside', () => {
  const stays = { type: 'specimen', id: 'lump', step: 'partLeft', reason: 'grown in' } as const;
  const done: readonly Done[] = [...incised, torn, stays];
  expect(said('skin', 'specimen-inside', ...done)).toEqual([]);
  expect(said('skin', 'specimen-unlabelled', ...done).map((hold) => hold[1])).toEqual([
    'A Lump not labelled',
  ]);
  const { current } = storyOf(...done);
  expect(exceptionsOf(current)).toEqual([
    { weighs: 'record', sentence: 'A Lump not whole: grown in' },
  ]);
});

const exceptions = (...done: readonly Done[]) =>
  exceptionsOf(storyOf(...incised, ...done).current).map(
    ({ weighs, sentence }) => `${weighs}: ${sentence}`,
  );

test('[X8] what is declared missing is said once, with the film that it owes', () => {
  const by = ['surgeon', 'scrub'];
  const steps = ['surgeon-told', 'record-read', 'field-searched', 'room-searched'] as const;
  const lost: readonly Done[] = [
    shortNeedle,
    recount({ needle: { field: 1 } }),
    ...steps.map((step): Done => ({ type: 'discrepancy', line: 'needle', step, by: 'surgeon' })),
    { type: 'discrepancy', line: 'needle', step: 'xray', skip: 'no film here' },
    { type: 'declare', line: 'needle', n: 1, reason: 'not found', by },
  ];
  expect(exceptions(...lost)).toEqual([
    'not-reconciled: 1 The needle declared unaccounted for: not found',
    'not-reconciled: An X-ray is owed and has not been read.',
  ]);
});

test('[X8] a waived count is said with its reason', () => {
  expect(exceptions(waived)).toEqual([
    'not-reconciled: The cavity count was waived: unstable',
    'not-reconciled: An X-ray is owed and has not been read.',
  ]);
});

test('[X8] what was searched for and not found is said', () => {
  const from = 'imaging';
  expect(
    exceptions(
      { type: 'carriedIn', line: 'faecolith', n: 1, site: 'abdomen', from },
      { type: 'searchedNone', line: 'faecolith', n: 1, site: 'abdomen', reason: 'none there' },
    ),
  ).toEqual(['record: The faecolith, 1: searched, none found: none there']);
});

test('[X8] a tray that was counted in late and a baseline that was amended are said', () => {
  const late = storyOf(...incised, { type: 'variant', to: 'open' }, count('added')).current;
  const isLate = { ...late, counts: { ...late.counts, isLate: true } };
  expect(exceptionsOf(isLate)).toEqual([
    { weighs: 'record', sentence: 'A tray was counted in late.' },
  ]);
  const over = { needle: { field: 3 } };
  const by = ['scrub', 'circulator', 'surgeon'];
  expect(
    exceptions(count('closing', over), recount(over), {
      type: 'amend',
      line: 'needle',
      n: 1,
      reason: 'a packet held two',
      by,
    }),
  ).toEqual(['record: The needle amended by 1: a packet held two']);
});

test('[X8] packing is said from the start, its reason when it is given; a drain is not', () => {
  const packing: readonly Done[] = [
    { type: 'variant', to: 'open' },
    count('added'),
    move('large-swab', 'table', 'patient/abdomen'),
    move('large-swab', 'patient/abdomen', 'stays'),
  ];
  expect(exceptions(...packing)).toEqual(['record: 1 The large-swab left on purpose: ']);
  const explain: Done = { type: 'explain', line: 'large-swab', reason: 'bleeding', where: 'liver' };
  expect(exceptions(...packing, explain)).toEqual([
    'record: 1 The large-swab left on purpose: bleeding',
  ]);
  expect(exceptions(...drainStays)).toEqual([]);
});

test('[X8] a counted thing that is away is said with whom; a small item is not', () => {
  const away = (line: string): Done => ({
    type: 'move',
    line,
    from: 'table',
    to: 'away',
    n: 1,
    with: 'the baby',
  });
  expect(exceptions(away('needle'))).toEqual(['record: 1 The needle left with the baby.']);
  expect(exceptions(away('seal'))).toEqual([]);
});

test('[X8] lengths that were accepted are said; while they are open they only hold', () => {
  const broken: Done = { type: 'break', line: 'needle', at: 'table', into: 2, lengths: [10, 12] };
  expect(exceptions(broken)).toEqual([]);
  const line = storyOf(...incised, broken).current.fragments[0]?.line ?? '';
  const accepted: Done = {
    type: 'explain',
    line,
    reason: 'worn off',
    by: ['surgeon', 'scrub'],
  };
  expect(exceptions(broken, accepted)).toEqual([
    'record: The needle: fragment: lengths do not add up: worn off',
  ]);
});

test('[X8] each verdict has its words', () => {
  expect(verdictWords).toEqual({
    open: 'The case is not finished.',
    reconciled: 'Reconciled: nothing was open that the record knows of.',
    'reconciled-with-record': 'Reconciled, with a record: read the exceptions.',
    'not-reconciled':
      'Not reconciled: something is unaccounted for, was not counted, or owes an X-ray.',
  });
  const ended = storyOf(...incised, ...specimenGone, ...closedUp, checkpoint('sign-out'));
  expect(exceptionsOf(ended.current)).toEqual([]);
});

test('[L2] the pieces inside are listed by line, all sites together', () => {
  const story = storyOf(
    ...incised,
    move('swab', 'table', 'patient/uterus'),
    move('swab', 'table', 'patient/abdomen'),
  );
  expect(piecesInside(story.current)).toEqual([{ line: 'swab', n: 2 }]);
});

test('[X8] a step that stayed open is said with who answers for it and why', () => {
  const open = { name: 'surgeon', reason: 'bleeding' };
  const answer: Done = { type: 'answer', checkpoint: 'sign-in', step: 'marked', open };
  const { current } = storyOf({ type: 'beginCheckpoint', id: 'sign-in' }, answer);
  const name = current.team.surgeon;
  expect(exceptionsOf(current)).toEqual([
    { weighs: 'record', sentence: `marked was left open by ${name}: bleeding` },
  ]);
});
