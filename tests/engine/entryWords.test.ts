import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import { decide } from '#engine/case/decide.ts';
import { entryWords } from '#engine/case/entryWords.ts';
import type { CaseEvent, Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { signedWords } from '#engine/case/signedWords.ts';
import type { Signature } from '#engine/decision.ts';
import type { Sheet } from '#engine/sheet.ts';
import {
  closedUp,
  count,
  type Done,
  givenOn,
  incised,
  opening,
  recount,
  specimenGone,
} from '../support/given.ts';
import { capital, namedSheet, step, storySheet } from '../support/storySheet.ts';

/** What the foot of the screen and the record say of one entry: what it is about, and what happened. */

/** The story's sheet with names that differ from its ids, and two more ways to answer. */
const sheet: Sheet = {
  ...namedSheet,
  checkpoints: storySheet.checkpoints.map((one) => ({
    ...one,
    steps: [
      ...one.steps.map((each) => ({ ...each, short: capital(each.id) })),
      ...(one.id === 'sign-in'
        ? [
            step('fasted', { kind: 'time' }, { short: 'Fasted' }),
            step('implants', { kind: 'text' }, { short: 'Implants' }),
            step('weight', { kind: 'number' }, { short: 'Weight' }),
          ]
        : []),
    ],
  })),
};

const at = '2026-01-05T08:00:00+00:00';

const stamp = { entry: 9, id: 'x', at, by: 'Prueba' };

/** The words of the entry that a command makes after all this was done. */
function words(done: readonly Done[], command: Command): readonly string[] {
  const { current } = givenOn(sheet, ...done);
  const decision = decide(current, command, { at, by: 'Prueba', id: 'last' });
  if (!decision.ok) throw new Error(`it was refused: ${decision.refusal.code}`);
  const after = decision.events.reduce(evolve, current);
  return decision.events.map((event) => {
    const { subject, rest } = entryWords(after, event);
    return `${subject} | ${rest}`;
  });
}

type Row = readonly [string, readonly Done[], Command];

const swabIn: Command = {
  type: 'move',
  line: 'swab',
  from: 'table',
  to: 'patient/abdomen',
  n: 2,
};
const needle = { type: 'move', line: 'needle', from: 'table', n: 1 } as const;
const loopIn: readonly Done[] = [
  { type: 'add', line: 'loop', n: 1 },
  { type: 'move', line: 'loop', from: 'table', to: 'patient/abdomen', n: 1 },
];
const drainStays: readonly Done[] = [
  { type: 'add', line: 'drain', n: 1 },
  { type: 'move', line: 'drain', from: 'table', to: 'stays', n: 1 },
];
const stones: Command = {
  type: 'carriedIn',
  line: 'faecolith',
  n: 3,
  site: 'abdomen',
  from: 'imaging',
};
const oldPack: Command = {
  type: 'carriedIn',
  line: 'old-pack',
  n: 1,
  site: 'vagina',
  from: 'earlier-operation',
};
const broken: Command = { type: 'break', line: 'needle', at: 'table', into: 2 };

const pieces: readonly Row[] = [
  ['The swab | 10 added to the field', incised, { type: 'add', line: 'swab', packs: [5, 5] }],
  [
    'The swab | 5 added to the field, a pack of 4 set aside, a pack of 6 set aside',
    incised,
    { type: 'add', line: 'swab', packs: [5, 4, 6] },
  ],
  [
    'The swab | nothing added, a pack of 4 set aside',
    incised,
    { type: 'add', line: 'swab', packs: [4] },
  ],
  ['The swab | 2 from the table to the abdomen', incised, swabIn],
  [
    'The needle | 1 from the table, left with the baby',
    incised,
    { ...needle, to: 'away', with: 'the baby' },
  ],
  ['The needle | 1 from the table to off the field', incised, { ...needle, to: 'off' }],
  [
    'The drain | 1 from the abdomen, stays on purpose',
    [
      ...incised,
      { type: 'add', line: 'drain', n: 1 },
      { type: 'move', line: 'drain', from: 'table', to: 'patient/abdomen', n: 1 },
    ],
    { type: 'move', line: 'drain', from: 'patient/abdomen', to: 'stays', n: 1 },
  ],
  [
    'The loop | 1 placed',
    [...incised, ...loopIn],
    { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
  ],
  [
    'The reel | 1 cut into 4',
    [...incised, { type: 'add', line: 'reel', n: 1 }],
    { type: 'turn', line: 'reel', turn: 'cut', at: 'table', n: 1, into: 4 },
  ],
  ['The needle | broke into 2 fragments', incised, broken],
  ['The needle | broke into 2 fragments (11 + 15 mm)', incised, { ...broken, lengths: [11, 15] }],
  ['The faecolith | 3 start in the patient (imaging)', incised, stones],
  ['The old-pack | 1 start in the patient (earlier operation)', incised, oldPack],
  [
    'The drain | stays: pus, pelvis, LOT-1',
    [...incised, ...drainStays],
    { type: 'explain', line: 'drain', reason: 'pus', where: 'pelvis', lot: 'LOT-1' },
  ],
  [
    'The drain | stays: pus; pus',
    [...incised, ...drainStays, ...drainStays],
    { type: 'explain', line: 'drain', reason: 'pus' },
  ],
  [
    'The needle: fragment | stays: measured roughly',
    [...incised, { ...broken, lengths: [11, 14] }],
    {
      type: 'explain',
      line: 'needle-fragment',
      reason: 'measured roughly',
      by: ['surgeon', 'scrub'],
    },
  ],
  [
    'The faecolith | 2 searched for, none found: washed out',
    [...incised, stones],
    { type: 'searchedNone', line: 'faecolith', n: 2, site: 'abdomen', reason: 'washed out' },
  ],
];

const begun: readonly Done[] = [...incised, { type: 'beginCount', moment: 'closing' }];
const short = { needle: { field: 1 }, swab: { field: 4 } };
const differing: readonly Done[] = [...incised, count('closing', short)];

const counts: readonly Row[] = [
  ['The closing | begun by Testa and Prueba', incised, { type: 'beginCount', moment: 'closing' }],
  ['extra count | begun by Testa and Prueba', incised, { type: 'beginCount', moment: 'extra' }],
  ['The needle | counted 2', begun, { type: 'enter', line: 'needle', field: 2 }],
  [
    'The needle | counted 1 in the field, 1 off',
    begun,
    { type: 'enter', line: 'needle', field: 1, off: 1 },
  ],
  ['Count | broken off: alarm', begun, { type: 'abandon', reason: 'alarm' }],
  [
    'The needle, The swab | recounted by Testa and Prueba',
    differing,
    { type: 'recount', lines: { needle: { field: 2 }, swab: { field: 5 } } },
  ],
  [
    'Nuovo | takes over from Testa as scrub',
    incised,
    { type: 'relief', role: 'scrub', to: 'Nuovo' },
  ],
  [
    'Nuovo | stands in for Probe as anaesthetist',
    incised,
    { type: 'relief', role: 'anaesthetist', to: 'Nuovo', short: true },
  ],
  [
    'The first | waived: bleeding',
    [],
    { type: 'waive', moment: 'first', reason: 'bleeding', by: ['surgeon', 'scrub'] },
  ],
];

const open: readonly Done[] = [...differing, recount({ needle: { field: 1 } })];
const told = { type: 'discrepancy', line: 'needle', by: 'surgeon' } as const;
const film = { type: 'xray', wholeField: true, result: 'nothing-seen', readBy: 'Lettura' } as const;
const searched: readonly Done[] = [
  ...open,
  { ...told, step: 'surgeon-told' },
  { ...told, step: 'record-read' },
  { ...told, step: 'field-searched' },
  { ...told, step: 'room-searched' },
  { ...film, line: 'needle' },
];
const over: readonly Done[] = [
  ...incised,
  count('closing', { needle: { field: 3 } }),
  recount({ needle: { field: 3 } }),
];

const discrepancies: readonly Row[] = [
  ['The needle | surgeon told, Ensayo', open, { ...told, step: 'surgeon-told' }],
  ['The needle | record read back, Ensayo', open, { ...told, step: 'record-read' }],
  ['The needle | wound and field searched, Ensayo', open, { ...told, step: 'field-searched' }],
  ['The needle | room searched, Ensayo', open, { ...told, step: 'room-searched' }],
  [
    'The needle | X-ray, Ensayo, not done: no machine',
    open,
    { ...told, step: 'xray', skip: 'no machine' },
  ],
  [
    'The needle | 1 found, now off the field',
    open,
    { type: 'discrepancy', line: 'needle', step: 'found', place: 'off' },
  ],
  [
    'The needle | 1 found, now on the table',
    searched.concat({
      type: 'declare',
      line: 'needle',
      n: 1,
      reason: 'x',
      by: ['surgeon', 'scrub'],
    }),
    { type: 'discrepancy', line: 'needle', step: 'found', place: 'table' },
  ],
  [
    'The needle | 1 found, now in the abdomen',
    open,
    { type: 'discrepancy', line: 'needle', step: 'found', place: 'patient/abdomen' },
  ],
  [
    'The needle | 1 declared unaccounted for by Ensayo and Testa: not found',
    searched,
    { type: 'declare', line: 'needle', n: 1, reason: 'not found', by: ['surgeon', 'scrub'] },
  ],
  [
    'The needle | baseline amended by 1, Testa, Prueba, Ensayo: two in a packet',
    over,
    {
      type: 'amend',
      line: 'needle',
      n: 1,
      reason: 'two in a packet',
      by: ['scrub', 'circulator', 'surgeon'],
    },
  ],
  ['X-ray | read by Lettura: nothing seen, whole field', incised, film],
  [
    'X-ray | read by Lettura: something seen, not the whole field',
    incised,
    { ...film, result: 'seen', wholeField: false },
  ],
  [
    'X-ray | deferred by Ensayo and Probe: unstable',
    [{ type: 'waive', moment: 'first', reason: 'bleeding', by: ['surgeon', 'scrub'] }],
    { type: 'deferXray', reason: 'unstable', by: ['surgeon', 'anaesthetist'] },
  ],
];

const lump = { type: 'specimen', id: 'lump' } as const;
const upTo = (steps: number): readonly Done[] => [...incised, ...specimenGone.slice(0, steps)];

const specimens: readonly Row[] = [
  [
    'B Node | added to the specimens',
    incised,
    { type: 'specimen', id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
  ],
  ['A Lump | out, one piece, whole', upTo(0), { ...lump, step: 'taken', pieces: 1 }],
  [
    'A Lump | out, 3 pieces, not whole, bag torn',
    upTo(0),
    { ...lump, step: 'taken', pieces: 3, whole: false, bag: 'torn' },
  ],
  ['A Lump | in pot 7, formalin', upTo(1), { ...lump, step: 'contained', pot: '7' }],
  [
    'A Lump | in pot 7, no medium',
    upTo(1),
    { ...lump, step: 'contained', pot: '7', medium: '', reason: 'frozen section' },
  ],
  [
    'A Lump | labelled by Prueba',
    upTo(2),
    { ...lump, step: 'labelled', label: 'usual', by: 'circulator' },
  ],
  ['A Lump | read back, Testa', upTo(3), { ...lump, step: 'readBack', by: 'scrub' }],
  [
    'A Lump | read back, not so: wrong side, Testa',
    upTo(3),
    { ...lump, step: 'readBack', by: 'scrub', agrees: false, reason: 'wrong side' },
  ],
  ['A Lump | handed over to porter', upTo(4), { ...lump, step: 'handedOver', to: 'porter' }],
  ['A Lump | not taken: adherent', upTo(0), { ...lump, step: 'notTaken', reason: 'adherent' }],
  ['A Lump | part stays: adherent', upTo(1), { ...lump, step: 'partLeft', reason: 'adherent' }],
];

const signIn: readonly Done[] = [{ type: 'beginCheckpoint', id: 'sign-in' }];
const answer = { type: 'answer', checkpoint: 'sign-in' } as const;
const finished: readonly Done[] = [
  ...signIn,
  { ...answer, step: 'sterility', value: 'fine' },
  { ...answer, step: 'marked', value: 'yes' },
  { ...answer, step: 'blood-loss', value: 50 },
  { ...answer, step: 'fasted', value: '2026-01-05T01:30:00+00:00' },
  { ...answer, step: 'implants', value: 'none' },
  { ...answer, step: 'weight', value: 70 },
];

const checkpoints: readonly Row[] = [
  [
    'Sign in | led by Prueba, present: Prueba, Probe',
    [],
    { type: 'beginCheckpoint', id: 'sign-in' },
  ],
  ['Sterility | A problem', signIn, { ...answer, step: 'sterility', value: 'problem' }],
  ['Marked | no', signIn, { ...answer, step: 'marked', value: 'no' }],
  ['Blood-loss | 50 mL', signIn, { ...answer, step: 'blood-loss', value: 50 }],
  ['Weight | 70', signIn, { ...answer, step: 'weight', value: 70 }],
  ['Fasted | 01:30', signIn, { ...answer, step: 'fasted', value: '2026-01-05T01:30:00+00:00' }],
  ['Implants | left hip', signIn, { ...answer, step: 'implants', value: 'left hip' }],
  [
    'Marked | does not apply: midline',
    signIn,
    { ...answer, step: 'marked', notApplicable: 'midline' },
  ],
  [
    'Marked | left open by Ensayo: bleeding',
    signIn,
    { ...answer, step: 'marked', open: { name: 'surgeon', reason: 'bleeding' } },
  ],
  [
    'Sign in | finished, faster than it can be said',
    finished,
    { type: 'finishCheckpoint', id: 'sign-in' },
  ],
  [
    'Sign in | finished',
    [{ kind: 'wait', minutes: -9 }, ...finished],
    { type: 'finishCheckpoint', id: 'sign-in' },
  ],
  [
    'Sign in | reopened: new allergy',
    [...finished, { type: 'finishCheckpoint', id: 'sign-in' }],
    { type: 'reopenCheckpoint', id: 'sign-in', reason: 'new allergy' },
  ],
  [
    'Cefuroxime | given at 07:45 1500 mg',
    [],
    {
      type: 'dose',
      agent: 'cefuroxime',
      mg: 1500,
      at: '2026-01-05T07:45:00+00:00',
    },
  ],
  ['Cefuroxime | given at 08:00', [], { type: 'dose', agent: 'cefuroxime' }],
];

const closing: readonly Done[] = [...incised, ...specimenGone];

const others: readonly Row[] = [
  ['Open | is the plan now', incised, { type: 'variant', to: 'open' }],
  [
    'Last look | seen: yes; dry: Bleeding',
    incised,
    { type: 'look', closure: 'abdomen', answers: { seen: true, dry: 'bleeding' } },
  ],
  ['Uterus | closed', [...closing, count('cavity')], { type: 'close', closure: 'uterus' }],
  [
    'Uterus | reopened: oozing',
    [...closing, count('cavity'), { type: 'close', closure: 'uterus' }],
    { type: 'reopen', closure: 'uterus', reason: 'oozing' },
  ],
  [
    'Case ended | ',
    [
      ...closing,
      ...closedUp,
      { type: 'beginCheckpoint', id: 'sign-out' },
      { type: 'finishCheckpoint', id: 'sign-out' },
    ],
    { type: 'finish' },
  ],
  ['Note | slow to start', [], { type: 'note', text: 'slow to start' }],
  ['The swab | 3 weigh 45 g', [], { type: 'weigh', line: 'swab', n: 3, wetG: 45 }],
  ['Allergies | latex, iodine', [], { type: 'allergies', known: ['latex', 'iodine'] }],
  ['Allergies | none known', [], { type: 'allergies', known: [] }],
  ['Fluid, suction | 200 mL', [], { type: 'fluid', kind: 'suction', ml: 200 }],
  [
    'The drain | handed over to ward: out on Monday',
    [...incised, ...drainStays],
    { type: 'handover', line: 'drain', to: 'ward', plan: 'out on Monday' },
  ],
];

test.each(pieces)('[X10] an entry about pieces says: %s', (said, done, command) => {
  expect(words(done, command)).toEqual([said]);
});

test.each(counts)('[X10] an entry about a count says: %s', (said, done, command) => {
  expect(words(done, command)).toEqual([said]);
});

test.each(discrepancies)('[X10] an entry about a discrepancy says: %s', (said, done, command) => {
  expect(words(done, command)).toEqual([said]);
});

test.each(specimens)('[X10] an entry about a specimen says: %s', (said, done, command) => {
  expect(words(done, command)).toEqual([said]);
});

test.each(checkpoints)('[X10] an entry about a checkpoint says: %s', (said, done, command) => {
  expect(words(done, command)).toEqual([said]);
});

test.each(others)('[X10] any other entry says: %s', (said, done, command) => {
  expect(words(done, command)).toEqual([said]);
});

test.each<readonly [string, readonly Done[]]>([
  ['The swab', [...incised, swabIn]],
  ['Lump', upTo(1)],
  ['abdomen', [...incised, { type: 'look', closure: 'abdomen', answers: { seen: true } }]],
])(
  '[L12] a correction says which entry it takes back, and what it was about: %s',
  (about, done) => {
    const { entry } = givenOn(sheet, ...done).current;
    expect(words(done, { type: 'correct', last: 1 })).toEqual([
      `Taken back | entry ${entry}: ${about}`,
    ]);
  },
);

test.each<readonly [string, readonly Signature[]]>([
  ['', []],
  ['PIN: Testa, Prueba', [pin('Testa'), pin('Prueba')]],
  [
    'without PIN: Testa (PIN forgotten), Prueba',
    [without('Testa', 'PIN forgotten'), without('Prueba')],
  ],
  ['PIN: Testa; without PIN: Prueba', [without('Prueba'), pin('Testa')]],
])('[X10] who confirmed an entry is said beside it: %s', (said, signed) => {
  expect(signedWords(signed)).toBe(said);
  const incision: CaseEvent = { ...stamp, type: 'incised', signed };
  expect(entryWords(givenOn(sheet).current, incision)).toEqual({ subject: 'Incision', rest: said });
});

function pin(name: string): Signature {
  return { name, how: 'pin' };
}

function without(name: string, reason?: string): Signature {
  return reason === undefined ? { name, how: 'without' } : { name, how: 'without', reason };
}

test('[C2] an agreed count says who agreed and how many lines, and no number of pieces', () => {
  const { lines } = givenOn(sheet, ...begun).current.counts.running ?? { lines: [] };
  const entered = lines.map((line): Command => ({ type: 'enter', line, field: 1 }));
  expect(words([...begun, ...entered], { type: 'agree' })).toEqual([
    `The closing | agreed by Testa and Prueba, ${lines.length} lines`,
  ]);
});

test('[X10] the case says which sheet it was opened with, the incision only that it was made', () => {
  const decision = openCase({ ...opening, sheet }, { at, by: 'Prueba', id: 'open' });
  const opened = decision.ok ? decision.events : [];
  const { current } = givenOn(sheet);
  expect(opened.map((event) => entryWords(current, event))).toEqual([
    { subject: 'Case opened', rest: 'Story' },
  ]);
  expect(words(incised.slice(0, -1), { type: 'incision' })).toEqual(['Incision | ']);
});

test.each<readonly [string, CaseEvent]>([
  ['mop | 2 weigh 9 g', { ...stamp, type: 'weighed', line: 'mop', n: 2, wetG: 9 }],
  ['toe | labelled by Testa', labelled('toe')],
  ['lunch | finished', { ...stamp, ...finishedAs('lunch') }],
  ['shoes | yes', answered('lunch', 'shoes')],
  ['shoes | yes', answered('sign-in', 'shoes')],
  ['water | given at 08:00', { ...stamp, type: 'dosed', agent: 'water', givenAt: at }],
  ['robot | is the plan now', { ...stamp, ...variantTo('robot') }],
  ['Sign out | closed', { ...stamp, type: 'closed', closure: 'sign-out' }],
  ['knee | reopened: x', { ...stamp, type: 'reopened', closure: 'knee', reason: 'x' }],
  ['Last look | seen: yes', { ...stamp, ...lookedAt('knee') }],
  ['Sterility | odd', answered('sign-in', 'sterility', 'odd')],
])('[X10] what the sheet does not name is called by its id: %s', (said, event) => {
  const { subject, rest } = entryWords(givenOn(sheet).current, event);
  expect(`${subject} | ${rest}`).toBe(said);
});

function answered(checkpoint: string, step_: string, value = 'yes'): CaseEvent {
  const answer_ = { kind: 'given', value, by: 'Prueba', at } as const;
  return { ...stamp, type: 'answered', checkpoint, step: step_, answer: answer_ };
}

function labelled(specimen: string): CaseEvent {
  const label = {
    patientName: '',
    patientNumber: '',
    born: '',
    letter: '',
    specimenName: '',
    site: '',
    side: '',
    takenAt: '',
  };
  return { ...stamp, type: 'specimenLabelled', specimen, label, labelledBy: 'Testa' };
}

function finishedAs(checkpoint: string) {
  return { type: 'checkpointFinished', checkpoint, computed: {}, fast: false } as const;
}

function variantTo(to: string) {
  return { type: 'variantChanged', group: 'x', from: '', to, opened: {}, postings: [] } as const;
}

function lookedAt(closure: string) {
  const answers = { seen: { kind: 'given', value: 'yes', by: 'Prueba', at } } as const;
  return { type: 'looked', closure, answers } as const;
}

test('[X10] what is no event has no words', () => {
  const strange = JSON.parse('{"type":"danced"}');
  expect(() => entryWords(givenOn(sheet).current, strange)).toThrow(Fault);
});
