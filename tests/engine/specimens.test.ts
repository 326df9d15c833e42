import { expect, test } from 'vitest';
import type { Sheet } from '#engine/sheet.ts';
import type { Label } from '#engine/specimens/events.ts';
import { type Done, given, givenOn, incised, specimenGone } from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

const lump = { type: 'specimen', id: 'lump' } as const;
const taken = { ...lump, step: 'taken', pieces: 1, whole: true } as const;
const contained = { ...lump, step: 'contained', pot: '1' } as const;
const labelled = { ...lump, step: 'labelled', label: 'usual', by: 'circulator' } as const;
const readBack = { ...lump, step: 'readBack', by: 'scrub' } as const;
const handedOver = { ...lump, step: 'handedOver', to: 'porter' } as const;
const inItsPot: readonly Done[] = [...incised, taken, contained];

const right: Required<Label> = {
  patientName: 'Testcase, Ash',
  patientNumber: 'TR-100',
  born: '1970-01-31',
  letter: 'A',
  specimenName: 'Lump',
  site: 'Abdomen',
  side: 'left',
  takenAt: '2026-01-05T08:00:00+00:00',
};

test('[S1] a planned specimen is owed from the start', () => {
  const story = given(...incised);
  expect(story.current.specimens.lump).toMatchObject({ letter: 'A', stage: 'planned' });
  expect(story.about('abdomen')).toContain('specimen-inside lump');
});

test('[S1] one that is added has the next free letter, a name and a site', () => {
  const add = { type: 'specimen', id: 'node', step: 'added', name: 'Node' } as const;
  const story = given(...incised)
    .when({ ...add, site: 'abdomen', side: 'right' })
    .records({ type: 'specimenAdded', letter: 'B', name: 'Node', side: 'right' });
  expect(story.about('abdomen')).toContain('specimen-inside node');
  given(...incised)
    .when({ ...add, site: 'knee' })
    .refused('unknown-site');
  given(...incised)
    .when({ ...add, name: '', site: 'abdomen' })
    .refused('name-missing');
  given(...incised)
    .when({ ...lump, step: 'added' })
    .refused('already-done');
  given(...incised)
    .when({ ...taken, id: 'nothing' })
    .refused('unknown-specimen');
});

test('[S1] what a change of variant plans has a letter that no other specimen of the case has', () => {
  const [first] = storySheet.specimens;
  if (!first) throw new Error('the story has no specimen');
  const sheet: Sheet = {
    ...storySheet,
    specimens: [
      { ...first, when: { variant: ['keyhole'] } },
      { ...first, id: 'other', when: { variant: ['open'] } },
    ],
  };
  const begun = givenOn(sheet, ...incised)
    .when({ type: 'variant', to: 'open' })
    .accepted();
  expect(Object.keys(begun.current.specimens)).toEqual(['other']);
  expect(begun.current.specimens.other).toMatchObject({ letter: 'A', stage: 'planned' });
  const late = givenOn(sheet, ...incised, taken)
    .when({ type: 'variant', to: 'open' })
    .accepted();
  expect(late.current.specimens.lump).toMatchObject({ letter: 'A', stage: 'taken' });
  expect(late.current.specimens.other).toMatchObject({ letter: 'B', stage: 'planned' });
  const back = late.when({ type: 'variant', to: 'keyhole' }).accepted();
  expect(Object.keys(back.current.specimens)).toEqual(['lump']);
});

test('[S2] what rides on a specimen goes with it', () => {
  const onIt: readonly Done[] = [
    { type: 'move', line: 'seal', from: 'table', to: 'patient/abdomen', n: 1 },
  ];
  const story = given(...incised, ...onIt)
    .when({ ...taken, carries: { seal: 1 } })
    .accepted();
  expect(story.balance('seal', 'specimen')).toBe(1);
  expect(story.balance('seal', 'patient/abdomen')).toBe(0);
  given(...incised, ...onIt)
    .when({ ...taken, carries: { seal: 99 } })
    .refused('not-enough');
  given(...incised, ...onIt)
    .when({ ...taken, carries: { mop: 1 } })
    .refused('unknown-line');
  given(...incised)
    .when({ ...taken, pieces: 0 })
    .refused('not-a-quantity');
});

test('[L14] a specimen carries no swab, sharp or instrument away', () => {
  given(...incised)
    .when({ ...taken, carries: { needle: 1 } })
    .refused('not-with-specimen');
});

test('[S2] pieces that make no whole hold until the rest is out or the surgeon says why it stays', () => {
  const part = given(...incised, { ...taken, pieces: 2, whole: false });
  expect(part.about('abdomen')).toContain('specimen-inside lump');
  const rest = part.when({ ...taken, pieces: 3, whole: true }).accepted();
  expect(rest.about('abdomen')).not.toContain('specimen-inside lump');
  const said = part.when({ ...lump, step: 'partLeft', reason: 'adherent' }).accepted();
  expect(said.about('abdomen')).not.toContain('specimen-inside lump');
});

test('[S2] a torn bag is said', () => {
  given(...incised)
    .when({ ...taken, bag: 'torn' })
    .warned('bag-torn');
});

test('[S3] one specimen a pot, seen by two', () => {
  given(...incised)
    .when(contained)
    .refused('not-taken-yet');
  given(...incised, taken)
    .when({ ...contained, seenBy: ['scrub'] })
    .refused('two-people');
  given(...incised, taken)
    .when({ ...contained, pot: '' })
    .refused('name-missing');
  const second: readonly Done[] = [
    { type: 'specimen', id: 'node', step: 'added', name: 'Node', site: 'abdomen' },
    { type: 'specimen', id: 'node', step: 'taken' },
  ];
  given(...inItsPot, ...second)
    .when({ type: 'specimen', id: 'node', step: 'contained', pot: '1' })
    .refused('pot-taken');
});

test('[S3] a medium that does not fit needs a reason, and is said', () => {
  const dry = { ...contained, medium: 'fresh' } as const;
  given(...incised, taken)
    .when(dry)
    .refused('medium-unfit');
  given(...incised, taken)
    .when({ ...dry, reason: 'frozen section' })
    .warned('medium-unfit');
});

test('[S4] a label that says all of it rightly is taken, whatever its capitals', () => {
  given(...inItsPot)
    .when({ ...labelled, label: right })
    .records({ label: right });
  const loud = { ...right, patientName: 'TESTCASE,  ASH' };
  given(...inItsPot)
    .when({ ...labelled, label: loud })
    .accepted();
});

const wrong: readonly (readonly [keyof Label, string])[] = [
  ['patientName', 'Another, Ash'],
  ['patientNumber', 'TR-101'],
  ['born', '1970-01-30'],
  ['letter', 'B'],
  ['specimenName', 'Node'],
  ['site', 'Vagina'],
  ['side', 'right'],
  ['takenAt', '2026-01-05T08:01:00+00:00'],
];

test.each(wrong)('[S5] a label that differs in %s is refused', (field, words) => {
  given(...inItsPot)
    .when({ ...labelled, label: { ...right, [field]: words } })
    .refused('label-differs');
});

test('[S5] a label without two identifiers, on the lid, or before its specimen is refused', () => {
  given(...inItsPot)
    .when({ ...labelled, label: { patientName: 'x' } })
    .refused('label-incomplete');
  given(...inItsPot)
    .when({ ...labelled, on: 'lid' })
    .refused('label-on-lid');
  given(...incised)
    .when(labelled)
    .refused('not-taken-yet');
  given(...incised, taken)
    .when(labelled)
    .refused('not-contained-yet');
});

test('[S6] whoever labelled does not read back', () => {
  given(...inItsPot)
    .when(readBack)
    .refused('not-labelled-yet');
  given(...inItsPot, labelled)
    .when({ ...readBack, by: 'circulator' })
    .refused('same-person');
  given(...inItsPot, labelled)
    .when({ ...readBack, by: 'Prueba' })
    .refused('same-person');
  const read = given(...inItsPot, labelled)
    .when(readBack)
    .accepted();
  expect(read.current.specimens.lump).toMatchObject({ stage: 'readBack', readBackBy: 'Testa' });
  read.when(readBack).refused('already-done');
});

test('[S6] what is read wrongly is labelled again', () => {
  const disagrees = { ...readBack, agrees: false } as const;
  given(...inItsPot, labelled)
    .when(disagrees)
    .refused('reason-missing');
  const story = given(...inItsPot, labelled, { ...disagrees, reason: 'it is the other node' });
  expect(story.current.specimens.lump?.stage).toBe('contained');
  story.when(labelled).accepted();
});

test('[S7] a specimen is handed over to somebody, after it was read back', () => {
  given(...inItsPot, labelled)
    .when(handedOver)
    .refused('not-read-yet');
  given(...inItsPot, labelled, readBack)
    .when({ ...handedOver, to: '' })
    .refused('name-missing');
  const gone = given(...inItsPot, labelled, readBack, handedOver);
  expect(gone.current.specimens.lump).toMatchObject({ stage: 'handedOver', handedTo: 'porter' });
  gone.when(handedOver).refused('already-done');
});

test("[S8] that nothing was taken is the surgeon's word, with a reason", () => {
  const notTaken = { ...lump, step: 'notTaken' } as const;
  given(...incised)
    .when(notTaken)
    .refused('reason-missing');
  given(...incised)
    .when({ ...notTaken, reason: 'other disease', by: 'scrub' })
    .refused('surgeon-missing');
  const story = given(...incised)
    .when({ ...notTaken, reason: 'other disease' })
    .accepted();
  expect(story.about('sign-out')).not.toContain('specimen-inside lump');
  given(...incised, taken)
    .when({ ...notTaken, reason: 'other disease' })
    .refused('already-done');
  given(...incised)
    .when({ ...lump, step: 'partLeft', reason: 'x' })
    .refused('not-taken-yet');
});

test('[S9] of a specimen only the first thing open holds, each at its gate', () => {
  const gates = ['uterus', 'abdomen', 'skin', 'sign-out'];
  const holding = (...done: readonly Done[]) =>
    gates.map((gate) =>
      given(...incised, ...done)
        .about(gate)
        .filter((hold) => hold.endsWith(' lump')),
    );
  expect(holding()).toEqual([
    [],
    ['specimen-inside lump'],
    ['specimen-inside lump'],
    ['specimen-inside lump'],
  ]);
  const unlabelled = [[], [], ['specimen-unlabelled lump'], ['specimen-unlabelled lump']];
  expect(holding(taken)).toEqual(unlabelled);
  expect(holding(taken, contained)).toEqual(unlabelled);
  const unread = [[], [], ['specimen-unread lump'], ['specimen-unread lump']];
  expect(holding(taken, contained, labelled)).toEqual(unread);
  const here = [[], [], [], ['specimen-here lump']];
  expect(holding(taken, contained, labelled, readBack)).toEqual(here);
  expect(holding(...specimenGone)).toEqual([[], [], [], []]);
});
