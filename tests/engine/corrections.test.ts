import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';
import {
  checkpoint,
  count,
  type Done,
  given,
  givenOn,
  incised,
  look,
  recount,
  specimenGone,
} from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

/** An entry is taken back by another one: what comes back, and what stands in the way. */

const last = { type: 'correct', last: 1 } as const;
const move = (line: string, from: string, to: string, n = 1): Command => ({
  type: 'move',
  line,
  from,
  to,
  n,
});
const swabIn = (n = 1) => move('swab', 'table', 'patient/abdomen', n);
const swabOut = (n = 1) => move('swab', 'patient/abdomen', 'off', n);
const note: Command = { type: 'note', text: 'a pause' };
const add = (line: string, n: number): Command => ({ type: 'add', line, n });

/** Where every piece is, by line, without what is nowhere. */
const whereAll = ({ lines, ledger }: Case) =>
  Object.fromEntries(
    [...lines.keys()]
      .map((line) => [line, rowOf(ledger, line)] as const)
      .filter(([, row]) => row.supply !== 0),
  );

/** Everything that a case holds, but for the mark of the entry itself and the age of its counts. */
function standing(current: Case) {
  const { entry: _e, lastAt: _a, log: _l, lines: _s, ledger: _g, agedEntry: _n, ...rest } = current;
  return { ...rest, pieces: whereAll(current) };
}

const lump = { type: 'specimen', id: 'lump' } as const;
const upTo = (steps: number): readonly Done[] => [...incised, ...specimenGone.slice(0, steps)];
const loopIn: readonly Done[] = [
  ...incised,
  add('loop', 2),
  move('loop', 'table', 'patient/abdomen', 2),
];
const placed: Command = { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 };
const drainIn: readonly Done[] = [
  ...incised,
  add('drain', 2),
  move('drain', 'table', 'patient/abdomen', 2),
];
const drainStays = { ...move('drain', 'patient/abdomen', 'stays'), reason: 'pus' } as Command; // a move
const needleAway = { ...move('needle', 'table', 'away'), with: 'the baby' } as Command; // a move
const broken: Command = { type: 'break', line: 'needle', at: 'table', into: 2, lengths: [10, 12] };
const stones: Command = {
  type: 'carriedIn',
  line: 'faecolith',
  n: 3,
  site: 'abdomen',
  from: 'imaging',
};
const explain: Command = { type: 'explain', line: 'drain', reason: 'pus', where: 'pelvis' };
const lengthsAccepted: Command = {
  type: 'explain',
  line: 'needle-fragment',
  reason: 'worn off',
  by: ['surgeon', 'scrub'],
};
const signIn: Command = { type: 'beginCheckpoint', id: 'sign-in' };
const marked: Command = { type: 'answer', checkpoint: 'sign-in', step: 'marked', value: 'yes' };
const handover: Command = { type: 'handover', line: 'drain', to: 'ward', plan: 'two days' };
const dose: Command = { type: 'dose', agent: 'cefuroxime', mg: 1500 };

test.each<readonly [string, readonly Done[], Command]>([
  ['what was opened', incised, add('reload', 2)],
  ['what was moved', incised, swabIn(2)],
  ['what was left away', incised, needleAway],
  ['what was left away a second time', [...incised, needleAway], needleAway],
  ['what came back from away', [...incised, needleAway], move('needle', 'away', 'table')],
  ['what stays', drainIn, drainStays],
  ['what stays beside others', [...drainIn, drainStays], drainStays],
  ['what was taken from where it stays', [...drainIn, drainStays], move('drain', 'stays', 'off')],
  ['why it stays', [...drainIn, drainStays], explain],
  ['a loop that was placed', loopIn, placed],
  ['a second loop that was placed', [...loopIn, placed], placed],
  ['a needle that broke', incised, broken],
  ['a second needle that broke', [...incised, broken], broken],
  ['lengths that were accepted', [...incised, broken], lengthsAccepted],
  ['what starts in the patient', incised, stones],
  [
    'that a search showed none',
    [...incised, stones],
    { type: 'searchedNone', line: 'faecolith', n: 1, site: 'abdomen', reason: 'not felt' },
  ],
  [
    'a specimen that was added',
    incised,
    { ...lump, id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
  ],
  ['a specimen that was taken', upTo(0), { ...lump, step: 'taken' }],
  ['a pot', upTo(1), { ...lump, step: 'contained', pot: '1' }],
  ['a label', upTo(2), { ...lump, step: 'labelled', label: 'usual' }],
  ['a label that was read back', upTo(3), { ...lump, step: 'readBack', by: 'scrub' }],
  ['a specimen that was handed over', upTo(4), { ...lump, step: 'handedOver', to: 'porter' }],
  ['that nothing was taken', upTo(0), { ...lump, step: 'notTaken', reason: 'adherent' }],
  ['a first answer', [signIn], marked],
  ['an answer given again', [signIn, marked], { ...marked, value: 'no' }],
  ['a dose', [], dose],
  ['a second dose', [dose], dose],
  ['a first note', [], note],
  ['a second note', [note], note],
  ['a weight', [], { type: 'weigh', line: 'swab', n: 2, wetG: 50 }],
  ['a fluid', [], { type: 'fluid', kind: 'suction', ml: 200 }],
  ['a handover', [...drainIn, drainStays], handover],
  ['a handover given again', [...drainIn, drainStays, handover], { ...handover, to: 'home' }],
])('[L12] %s is taken back to what stood before', (_, done, command) => {
  const before = given(...done);
  const made = before.when(command).accepted();
  expect(standing(made.current)).not.toStrictEqual(standing(before.current));
  const undone = made.when(last).accepted();
  expect(standing(undone.current)).toStrictEqual(standing(before.current));
});

test('[L12] where nothing was entered, nothing is taken back', () => {
  given().when(last).refused('nothing-to-correct');
  given(note, last).when(last).refused('nothing-to-correct');
});

test('[L12] a refusal names the entry that is meant, or the one that stands on it', () => {
  const story = given(...incised, swabIn(2), note, swabOut(2));
  const { entry } = story.current;
  story.when({ type: 'correct', entry: entry - 2 }).refused('entry-depended-on', `Entry ${entry}`);
  story.when({ type: 'correct', entry: 999 }).refused('unknown-entry', '999');
  story.when({ type: 'correct', entry: 1 }).refused('unknown-entry', '1');
  const undone = story.when(last).accepted();
  undone.when({ type: 'correct', entry }).refused('already-corrected', String(entry));
  given(...incised)
    .when(last)
    .refused('not-taken-back', 'incised');
});

test('[L12] an entry that others only followed is taken back', () => {
  const between: readonly Done[] = [swabIn(2), swabIn(3), add('loop', 1)];
  const story = given(...incised, ...between);
  const first = { type: 'correct', entry: story.current.entry - 2 } as const;
  const undone = story.when(first).records({ type: 'corrected', what: 'moved', subject: 'swab' });
  expect(undone.balance('swab', 'table')).toBe(2);
  expect(undone.balance('swab', 'patient/abdomen')).toBe(3);
});

test('[L12] what is left may be just enough for what came later, not one less', () => {
  const packs = { type: 'add', line: 'swab', packs: [5] } as const;
  const takenBack = (n: number) => {
    const story = given(...incised, packs, swabIn(n));
    return story.when({ type: 'correct', entry: story.current.entry - 1 });
  };
  expect(takenBack(5).accepted().balance('swab', 'table')).toBe(0);
  takenBack(6).refused('entry-depended-on');
});

test('[L12] what was itself taken back does not stand in the way', () => {
  const packs = { type: 'add', line: 'swab', packs: [5] } as const;
  const story = given(...incised, packs, move('swab', 'table', 'off', 6), swabIn(4));
  const { entry } = story.current;
  const undone = story.when({ type: 'correct', entry: entry - 1 }).accepted();
  const none = undone.when({ type: 'correct', entry: entry - 2 }).accepted();
  expect(none.balance('swab', 'table')).toBe(1);
  expect(none.balance('swab', 'patient/abdomen')).toBe(4);
});

test('[L12] the entries beside one that was taken back can still be', () => {
  const story = given(...incised, swabIn(1), swabIn(2));
  const undone = story.when({ type: 'correct', entry: story.current.entry - 1 }).accepted();
  expect(undone.balance('swab', 'patient/abdomen')).toBe(2);
  expect(undone.when(last).accepted().balance('swab', 'patient/abdomen')).toBe(0);
});

test('[L12] what lies before a taken back entry is not written again', () => {
  const story = given(...incised, swabIn());
  const undone = story.when(last).accepted();
  expect(undone.current.log?.tail?.tail).toBe(story.current.log?.tail);
  expect(undone.current.log?.tail).toMatchObject({ type: 'moved', corrected: true });
});

test.each<readonly [string, readonly Done[], Command, Command]>([
  [
    'an answer of the same look',
    incised,
    { type: 'look', closure: 'abdomen', answers: { seen: true } },
    { type: 'look', closure: 'abdomen', answers: { dry: 'dry' } },
  ],
  [
    'the next step of the same specimen',
    upTo(1),
    { ...lump, step: 'contained', pot: '1' },
    { ...lump, step: 'labelled', label: 'usual' },
  ],
  ['a later dose', [], dose, dose],
  ['the reason of what stays', drainIn, drainStays, explain],
])('[L12] %s stands on the one before', (_, done, one, other) => {
  const story = given(...done, one, other);
  const { entry } = story.current;
  story.when({ type: 'correct', entry: entry - 1 }).refused('entry-depended-on', `Entry ${entry}`);
});

test.each<readonly [string, readonly Done[], Command, Command]>([
  [
    'a specimen',
    [...incised, { ...lump, id: 'node', step: 'added', name: 'Node', site: 'abdomen' }],
    { ...lump, step: 'taken' },
    { ...lump, id: 'node', step: 'taken' },
  ],
  ['a dose', [], dose, note],
  ['what stays', [...drainIn, add('implant', 1)], drainStays, move('implant', 'table', 'stays')],
  ['a break', [...drainIn, drainStays], broken, explain],
])('[L12] %s does not stand on another', (_, done, one, other) => {
  const story = given(...done, one, other);
  const undone = story.when({ type: 'correct', entry: story.current.entry - 1 }).accepted();
  expect(standing(undone.current)).toStrictEqual(standing(given(...done, other).current));
});

const inUterus = move('swab', 'table', 'patient/uterus');
const outOfUterus = move('swab', 'patient/uterus', 'off');
const close = (closure: string): Command => ({ type: 'close', closure });
const closedUterus: readonly Done[] = [
  ...incised,
  inUterus,
  outOfUterus,
  count('cavity'),
  close('uterus'),
];

test('[L12] what a closure was made on is not taken back; the refusal names the closure', () => {
  const story = given(...closedUterus, add('loop', 1));
  const { entry } = story.current;
  const out = given(...incised, inUterus, outOfUterus).current.entry;
  story.when({ type: 'correct', entry: out }).refused('entry-depended-on', `Entry ${entry - 1}`);
});

test('[L12] once the closure is reopened it can be taken back', () => {
  const out = given(...incised, inUterus, outOfUterus).current.entry;
  const open = given(...closedUterus, { type: 'reopen', closure: 'uterus', reason: 'oozing' });
  const undone = open.when({ type: 'correct', entry: out }).accepted();
  expect(undone.balance('swab', 'patient/uterus')).toBe(1);
});

test('[L12] what no closure needed is taken back after it', () => {
  const story = given(note, ...closedUterus);
  story.when({ type: 'correct', entry: 2 }).accepted();
});

test('[L12] an entry made after a closure does not carry it', () => {
  const stays = move('large-swab', 'table', 'stays');
  const why: Command = { type: 'explain', line: 'large-swab', reason: 'ooze', where: 'pelvis' };
  const packs: Command = { type: 'add', line: 'large-swab', packs: [5] };
  const story = given(...closedUterus, packs, stays, why);
  const undone = story.when(last).accepted();
  expect(undone.about('abdomen')).toContain('stays-unexplained large-swab');
});

test('[L12] the closure is named, not a specimen that has its name', () => {
  const specimens = storySheet.specimens.map((one) => ({ ...one, id: 'uterus' }));
  const uterus = { type: 'specimen', id: 'uterus', step: 'taken' } as const;
  const story = givenOn({ ...storySheet, specimens }, ...closedUterus, uterus);
  const { entry } = story.current;
  const out = given(...incised, inUterus, outOfUterus).current.entry;
  story.when({ type: 'correct', entry: out }).refused('entry-depended-on', `Entry ${entry - 1}`);
});

test('[L12] of two closures the one that needed the entry is named', () => {
  const inside = move('swab', 'table', 'patient/abdomen');
  const out = move('swab', 'patient/abdomen', 'off');
  const until: readonly Done[] = [...incised, ...specimenGone, inside, out];
  const story = given(
    ...until,
    count('cavity'),
    close('uterus'),
    look('abdomen'),
    count('closing'),
    close('abdomen'),
  );
  const { entry } = given(...until).current;
  story
    .when({ type: 'correct', entry })
    .refused('entry-depended-on', `Entry ${story.current.entry}`);
});

test('[L12] the closure that needed the entry is named, not a later one', () => {
  const until: readonly Done[] = [...incised, ...specimenGone, inUterus, outOfUterus];
  const inner: readonly Done[] = [...until, count('cavity'), close('uterus')];
  const { entry: made } = given(...inner).current;
  const story = given(...inner, look('abdomen'), count('closing'), close('abdomen'));
  const { entry } = given(...until).current;
  story.when({ type: 'correct', entry }).refused('entry-depended-on', `Entry ${made}`);
});

test('[C6] taking back what made counts stale makes them stale, though only a part of the entry did', () => {
  const story = given(
    checkpoint('sign-in'),
    dose,
    count('first'),
    { type: 'beginCheckpoint', id: 'time-out' },
    { type: 'answer', checkpoint: 'time-out', step: 'stones', value: 3 },
    look('abdomen'),
  );
  const { entry } = story.current;
  const undone = story.when({ type: 'correct', entry: entry - 1 }).accepted();
  expect(undone.holds('abdomen')).toContain('look-open');
  expect(undone.balance('faecolith', 'patient/abdomen')).toBe(0);
  expect(undone.current.agedEntry).toBe(undone.current.entry);
});

test('[X5] taking back what changed the inside asks the last look again', () => {
  const sealIn = move('seal', 'table', 'patient/abdomen');
  const sealOut = move('seal', 'patient/abdomen', 'table'); // a port part: it asks nothing
  const ported = given(...incised, sealIn, look('abdomen'), sealOut);
  expect(ported.holds('abdomen')).not.toContain('look-open');
  expect(ported.when(last).accepted().holds('abdomen')).toContain('look-open');
});

test('[X5] so does taking back that a bag was torn, or what stays from the table', () => {
  const torn = given(...incised, { ...lump, step: 'taken', bag: 'torn' }, look('abdomen'));
  expect(
    torn
      .when({ type: 'correct', entry: torn.current.entry - 1 })
      .accepted()
      .holds('abdomen'),
  ).toContain('look-open');
  const whole = given(...incised, { ...lump, step: 'taken' }, look('abdomen'));
  const undone = whole.when({ type: 'correct', entry: whole.current.entry - 1 }).accepted();
  expect(undone.holds('abdomen')).not.toContain('look-open');
});

test('[X5] a correction does not bring back answers that were asked again since', () => {
  const seen: Command = { type: 'look', closure: 'abdomen', answers: { seen: true } };
  const dry: Command = { type: 'look', closure: 'abdomen', answers: { dry: 'dry' } };
  const story = given(...incised, seen, dry, swabIn());
  const undone = story.when({ type: 'correct', entry: story.current.entry - 1 }).accepted();
  expect(undone.current.looks).toEqual({});
});

test('[L12] a step of a discrepancy stands under the recount that followed it', () => {
  const told: Command = { type: 'discrepancy', line: 'swab', step: 'surgeon-told', by: 'surgeon' };
  const short = { swab: { field: 4 } };
  const story = given(...incised, count('extra', short), recount(short), told, recount(short));
  const { entry } = story.current;
  story.when({ type: 'correct', entry: entry - 1 }).refused('entry-depended-on', `Entry ${entry}`);
});

test('[L12] an entry that was taken back keeps nothing of what it did, only that it was there', () => {
  const swabIn = {
    type: 'move',
    line: 'swab',
    from: 'table',
    to: 'patient/abdomen',
    n: 1,
  } as const;
  const { current } = given(...incised, swabIn, { type: 'correct' });
  expect(current.log?.tail).toMatchObject({
    ...{ type: 'moved', subject: 'swab', corrected: true },
    ...{ postings: [], undo: [] },
  });
  const noted = given(...incised, { type: 'note', text: 'a pause' }, { type: 'correct' });
  expect(noted.current.log?.tail).toMatchObject({ type: 'noteWritten', undo: [] });
  expect(noted.current.notes).toEqual([]);
});
