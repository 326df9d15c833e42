import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Sheet } from '#engine/sheet.ts';
import { differingField, labelFields, labelOf, missingField } from '#engine/specimens/labelOf.ts';
import { type Done, given, givenOn, incised, look, specimenGone } from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

/** Specimens in detail: what is refused where, what each step keeps, and what a label must say. */

const at = '2026-01-05T08:00:00+00:00';
const strange = (json: string) => JSON.parse(json);
const lump = { type: 'specimen', id: 'lump' } as const;
const node = { type: 'specimen', id: 'node' } as const;
const added = { ...node, step: 'added', name: 'Node', site: 'abdomen' } as const;
const taken = { ...lump, step: 'taken' } as const;
const contained = { ...lump, step: 'contained', pot: '1' } as const;
const labelled = { ...lump, step: 'labelled', label: 'usual', by: 'circulator' } as const;
const readBack = { ...lump, step: 'readBack', by: 'scrub' } as const;
const handedOver = { ...lump, step: 'handedOver', to: 'porter' } as const;
const notTaken = { ...lump, step: 'notTaken', reason: 'adherent' } as const;
const upTo = (steps: number): readonly Done[] => [...incised, ...specimenGone.slice(0, steps)];
const sealIn: Done = { type: 'move', line: 'seal', from: 'table', to: 'patient/abdomen', n: 1 };
const right = {
  patientName: 'Testcase, Ash',
  patientNumber: 'TR-100',
  born: '1970-01-31',
  letter: 'A',
  specimenName: 'Lump',
  site: 'Abdomen',
  side: 'left',
  takenAt: at,
};
const saying = (more: object): Command => ({ ...labelled, label: { ...right, ...more } });

test.each<readonly [string, RefusalCode, string | undefined, readonly Done[], Command]>([
  [
    'a step that is none',
    'unknown-step',
    'weighed',
    incised,
    { ...taken, step: strange('"weighed"') },
  ],
  ['one not known', 'unknown-specimen', 'node', incised, { ...taken, id: 'node' }],
  ['added on no side', 'malformed', 'side', incised, { ...added, side: strange('"upper"') }],
  ['added in no site', 'unknown-site', 'knee', incised, { ...added, site: 'knee' }],
  ['added on the table', 'unknown-site', 'table', incised, { ...added, site: 'table' }],
  [
    'added in one of three sites',
    'unknown-site',
    undefined,
    incised,
    { ...node, step: 'added', name: 'Node' },
  ],
  ['added without a name', 'name-missing', 'name', incised, { ...added, name: ' ' }],
  [
    'added with no name',
    'name-missing',
    'name',
    incised,
    { ...node, step: 'added', site: 'abdomen' },
  ],
  ['added twice', 'already-done', 'lump', incised, { ...added, id: 'lump' }],
  ['in a bag that is neither', 'malformed', 'bag', incised, { ...taken, bag: strange('"wet"') }],
  ['with a line not known', 'unknown-line', 'mop', incised, { ...taken, carries: { mop: 1 } }],
  ['in no pieces', 'not-a-quantity', 'pieces', incised, { ...taken, pieces: 0 }],
  ['with less than one', 'not-a-quantity', 'seal', incised, { ...taken, carries: { seal: 0 } }],
  ['with a needle', 'not-with-specimen', 'needle', incised, { ...taken, carries: { needle: 1 } }],
  ['taken again out of its pot', 'already-done', 'Lump', upTo(2), taken],
  ['taken, which was not', 'already-done', 'Lump', [...incised, notTaken], taken],
  ['with more than there are', 'not-enough', 'seal', incised, { ...taken, carries: { seal: 3 } }],
  ['in no pot', 'name-missing', 'pot', upTo(1), { ...contained, pot: ' ' }],
  ['seen by one', 'two-people', 'seenBy', upTo(1), { ...contained, seenBy: ['scrub'] }],
  ['in a pot before it is out', 'not-taken-yet', 'Lump', incised, contained],
  ['in a pot, which was not taken', 'not-taken-yet', 'Lump', [...incised, notTaken], contained],
  ['in another pot when it is labelled', 'already-done', 'Lump', upTo(3), contained],
  [
    'in the pot of another',
    'pot-taken',
    'A Lump',
    [...upTo(2), added, { ...node, step: 'taken' }],
    { ...node, step: 'contained', pot: '1' },
  ],
  [
    'in a medium that does not fit',
    'medium-unfit',
    'fresh',
    upTo(1),
    { ...contained, medium: 'fresh' },
  ],
  ['labelled before it is out', 'not-taken-yet', 'Lump', incised, labelled],
  ['labelled, which was not taken', 'not-taken-yet', 'Lump', [...incised, notTaken], labelled],
  ['labelled before its pot', 'not-contained-yet', 'Lump', upTo(1), labelled],
  ['labelled on the lid', 'label-on-lid', 'Lump', upTo(2), { ...labelled, on: 'lid' }],
  [
    'without a label',
    'label-incomplete',
    'name of the patient',
    upTo(2),
    { ...lump, step: 'labelled', by: 'circulator' },
  ],
  ['with no side', 'label-incomplete', 'side', upTo(2), saying({ side: '' })],
  ['with another side', 'label-differs', 'side', upTo(2), saying({ side: 'right' })],
  ['read as wrong without why', 'reason-missing', 'Lump', upTo(3), { ...readBack, agrees: false }],
  ['read back by nobody', 'name-missing', 'by', upTo(3), { ...readBack, by: ' ' }],
  [
    'read back by who labelled',
    'same-person',
    'Prueba',
    upTo(3),
    { ...readBack, by: 'circulator' },
  ],
  ['read back twice', 'already-done', 'Lump', upTo(4), { ...readBack, by: 'surgeon' }],
  ['read back when it is gone', 'already-done', 'Lump', upTo(5), { ...readBack, by: 'surgeon' }],
  ['read back without a label', 'not-labelled-yet', 'Lump', upTo(2), readBack],
  ['handed over to nobody', 'name-missing', 'to', upTo(4), { ...handedOver, to: ' ' }],
  ['handed over twice', 'already-done', 'Lump', upTo(5), handedOver],
  ['handed over unread', 'not-read-yet', 'Lump', upTo(3), handedOver],
  ['not taken, without why', 'reason-missing', 'Lump', incised, { ...notTaken, reason: ' ' }],
  ['not taken, by the scrub', 'surgeon-missing', 'Lump', incised, { ...notTaken, by: 'scrub' }],
  ['not taken, which is out', 'already-done', 'Lump', upTo(1), notTaken],
  [
    'a part left of what is not out',
    'not-taken-yet',
    'Lump',
    incised,
    { ...notTaken, step: 'partLeft' },
  ],
  [
    'a part left of what was not taken',
    'not-taken-yet',
    'Lump',
    [...incised, notTaken],
    { ...notTaken, step: 'partLeft' },
  ],
])(
  '[S1] [S2] [S3] [S5] [S6] [S7] [S8] a specimen is refused: %s',
  (_, code, detail, done, command) => {
    given(...done)
      .when(command)
      .refused(code, detail);
  },
);

const offered = (id: string, more: Partial<Sheet['specimens'][number]>) => ({
  id,
  letter: 'B',
  name: 'Offered',
  site: 'uterus',
  side: 'right' as const,
  test: 'culture',
  media: ['broth'],
  bag: false,
  planned: false,
  ...more,
});
const sheet: Sheet = {
  ...storySheet,
  specimens: [
    ...storySheet.specimens,
    offered('offered', { siteWords: 'back wall' }),
    offered('other', { name: 'Other', letter: 'D' }),
  ],
};
const bare = { step: 'added', type: 'specimen' } as const;

test.each<readonly [string, Command, object]>([
  [
    'of the sheet, as the sheet says',
    { ...bare, id: 'offered' },
    {
      name: 'Offered',
      letter: 'B',
      site: 'uterus',
      siteWords: 'back wall',
      side: 'right',
      test: 'culture',
      media: ['broth'],
    },
  ],
  [
    'of the sheet, by the name of its site',
    { ...bare, id: 'other' },
    { siteWords: 'Uterus', letter: 'D' },
  ],
  [
    'as was said, before what the sheet says',
    {
      ...bare,
      id: 'offered',
      name: 'Said',
      letter: 'Q',
      site: 'vagina',
      siteWords: 'front wall',
      side: 'left',
      test: 'cytology',
      media: ['alcohol'],
    },
    {
      name: 'Said',
      letter: 'Q',
      site: 'vagina',
      siteWords: 'front wall',
      side: 'left',
      test: 'cytology',
      media: ['alcohol'],
    },
  ],
  [
    'of no sheet: the next letter, no side, histology, any medium',
    added,
    {
      name: 'Node',
      letter: 'B',
      site: 'abdomen',
      siteWords: 'Abdomen',
      side: 'not applicable',
      test: 'histology',
      media: [],
    },
  ],
])('[S1] a specimen is added %s', (_, command, says) => {
  expect(
    givenOn(sheet, ...incised)
      .when(command)
      .events(),
  ).toMatchObject([says]);
});

test('[S1] a letter that is taken is not given again, however many there are', () => {
  const many = Array.from(
    { length: 26 },
    (_, n): Done => ({ ...added, id: `n${n}`, name: `N${n}` }),
  );
  const story = givenOn(sheet, ...incised, { ...added, id: 'first' });
  expect(story.when({ ...bare, id: 'offered' }).events()).toMatchObject([{ letter: 'C' }]);
  const full = given(...incised, ...many);
  const letters = Object.values(full.current.specimens).map(({ letter }) => letter);
  expect(new Set(letters).size).toBe(27);
  expect(letters.at(-1)).toBe('A26');
});

test('[S1] where a sheet has one site, it need not be said', () => {
  const abdomen = storySheet.sites.filter(({ id }) => id === 'abdomen');
  const one: Sheet = { ...storySheet, sites: abdomen, closures: [] };
  expect(
    givenOn(one, ...incised)
      .when({ ...node, step: 'added', name: 'Node' })
      .events(),
  ).toMatchObject([{ site: 'abdomen' }]);
});

test('[S1] what was added is planned, with no bag wanted', () => {
  expect(given(...incised, added).current.specimens.node).toStrictEqual({
    id: 'node',
    name: 'Node',
    letter: 'B',
    site: 'abdomen',
    siteWords: 'Abdomen',
    side: 'not applicable',
    test: 'histology',
    media: [],
    bagWanted: false,
    stage: 'planned',
  });
});

test('[S2] what a specimen carries is summed over its pieces, and the first time stays its time', () => {
  const first = { ...taken, pieces: 1, whole: false, bag: 'intact', carries: { seal: 1 } } as const;
  const later = { ...taken, pieces: 2, carries: { seal: 1, loop: 1 } } as const;
  const story = given(
    ...incised,
    { type: 'add', line: 'loop', n: 1 },
    sealIn,
    first,
    { kind: 'wait', minutes: 5 },
    later,
  );
  expect(story.current.specimens.lump).toMatchObject({
    stage: 'taken',
    pieces: 2,
    isWhole: true,
    bag: 'none',
    carries: { seal: 2, loop: 1 },
    takenAt: at,
  });
  expect(story.balance('seal', 'specimen')).toBe(2); // one from inside, one from the table
  expect(story.balance('seal', 'patient/abdomen')).toBe(0);
});

test.each<readonly ['intact' | 'torn' | 'none', readonly string[], boolean]>([
  ['intact', [], false],
  ['torn', ['bag-torn'], true],
  ['none', [], false],
])('[S2] a bag that is %s says %j, and asks the last look again: %s', (bag, said, asks) => {
  const answered = given(...incised, look('abdomen')).when({ ...taken, bag });
  expect(answered.said()).toEqual(said);
  expect(answered.accepted().holds('abdomen').includes('look-open')).toBe(asks);
});

test('[C6] what rides out on a specimen makes counts stale; a pot, a label and a bag do not', () => {
  const riding = given(...incised, sealIn, { ...taken, carries: { seal: 1 } }).current;
  expect(riding.agedEntry).toBe(riding.entry);
  const plain = given(...upTo(5)).current;
  expect(plain.agedEntry).toBeLessThan(plain.entry - 4);
});

test('[S3] a medium that does not fit is kept with its reason; one that fits has none', () => {
  const dry = { ...contained, medium: 'fresh', reason: 'frozen section' } as const;
  expect(given(...upTo(1), dry).current.specimens.lump).toMatchObject({
    stage: 'contained',
    pot: '1',
    medium: 'fresh',
    mediumReason: 'frozen section',
    seenBy: ['Testa', 'Prueba'],
    containedAt: at,
  });
  const [event] = given(...upTo(1))
    .when(contained)
    .events();
  expect(Object.keys(event ?? {})).not.toContain('reason');
  const fits = given(...upTo(1), { ...contained, reason: 'none needed' }).current.specimens.lump;
  expect(fits?.medium).toBe('formalin');
  expect(Object.keys(fits ?? {})).not.toContain('mediumReason');
});

test('[S3] where no medium is asked any will do, also none; a pot can be said again', () => {
  const any = given(...incised, added, { ...node, step: 'taken' });
  const none = any.when({ ...node, step: 'contained', pot: '2' });
  expect(none.events()).toMatchObject([{ medium: '' }]);
  expect(none.said()).toEqual([]);
  given(...upTo(2))
    .when({ ...contained, pot: '7' })
    .accepted();
  given(...upTo(2))
    .when(contained)
    .accepted();
});

test('[S6] a label is kept with who labelled; a read back with who read, and why it was not so', () => {
  expect(given(...upTo(2), labelled).current.specimens.lump).toMatchObject({
    stage: 'labelled',
    labelledBy: 'Prueba',
    labelledAt: at,
  });
  const wrong = given(...upTo(3)).when({ ...readBack, agrees: false, reason: 'wrong side' });
  expect(wrong.events()).toMatchObject([{ agrees: false, reason: 'wrong side' }]);
  const [so] = given(...upTo(3))
    .when(readBack)
    .events();
  expect(Object.keys(so ?? {})).not.toContain('reason');
});

test('[S4] a label says what the case and the specimen say, and no time before it is out', () => {
  const { current } = given(...upTo(1));
  const { lump: specimen } = current.specimens;
  if (!specimen) throw new Error('there is no lump');
  expect(labelOf(current, specimen)).toEqual(right);
  const { takenAt: _, ...planned } = specimen;
  expect(labelOf(current, planned).takenAt).toBe('');
});

test.each([
  'patientName',
  'patientNumber',
  'letter',
  'specimenName',
  'site',
  'side',
  'takenAt',
] as const)('[S4] a label without %s is not complete', (field) => {
  expect(missingField(right, right)).toBeUndefined();
  expect(missingField(right, { ...right, [field]: ' ' })).toBe(field);
});

test('[S4] the date of birth may be left out, and so may the side where there is none', () => {
  const { born: _b, side: _s, ...bare_ } = right;
  expect(missingField(right, { ...bare_, side: 'left' })).toBeUndefined();
  expect(missingField({ ...right, side: 'not applicable' }, bare_)).toBeUndefined();
  expect(differingField(right, bare_)).toBeUndefined();
});

test.each([
  ['capitals', 'TESTCASE, ASH'],
  ['spaces round it', '  Testcase, Ash '],
  ['two spaces for one', 'Testcase,   Ash'],
])('[S5] %s do not make a label differ', (_, patientName) => {
  expect(differingField(right, { ...right, patientName })).toBeUndefined();
});

test.each([
  ['a space left out', { patientName: 'Testcase,Ash' }, 'patientName'],
  ['another number', { patientNumber: 'TR-101' }, 'patientNumber'],
  ['a day of birth', { born: '1970-01-30' }, 'born'],
  ['a letter', { letter: 'B' }, 'letter'],
  ['a specimen', { specimenName: 'Node' }, 'specimenName'],
  ['a site', { site: 'Uterus' }, 'site'],
  ['a side', { side: 'right' }, 'side'],
  ['a time', { takenAt: '2026-01-05T08:01:00+00:00' }, 'takenAt'],
])('[S5] %s makes a label differ', (_, more, field) => {
  expect(differingField(right, { ...right, ...more })).toBe(field);
});

test('[S5] other letters make a label differ, although in capitals they would be the same', () => {
  expect(differingField({ ...right, patientName: 'Straße' }, { patientName: 'STRASSE' })).toBe(
    'patientName',
  );
});

test('[S5] a refusal names the field in words', () => {
  expect(labelFields).toEqual({
    patientName: 'name of the patient',
    patientNumber: 'number of the patient',
    born: 'date of birth',
    letter: 'letter of the specimen',
    specimenName: 'name of the specimen',
    site: 'site',
    side: 'side',
    takenAt: 'time taken',
  });
});
