import { expect, test } from 'vitest';
import { outcomeOf } from '#engine/case/outcomeOf.ts';
import { owedAfter } from '#engine/case/owedAfter.ts';
import { settledAfter } from '#engine/case/settledAfter.ts';
import { resultSeenNote, resultWithdrawnNote } from '#engine/notes/resultSeen.ts';
import { removalNote, removalWithdrawnNote } from '#engine/notes/takenOut.ts';
import { type DiscrepancyStep, discrepancySteps } from '#engine/state.ts';
import type { Done } from '../support/given.ts';
import { count, given, givenOn, incised, recount, specimenGone, wait } from '../support/given.ts';
import { inGerman } from '../support/inGerman.ts';
import { namedSheet } from '../support/storySheet.ts';

const note = (text: string): Done => ({ type: 'note', text });
const owed = (...done: readonly Done[]) =>
  owedAfter(given(...incised, ...done).current).map(({ kind, about, words }) => [
    kind,
    about,
    words,
  ]);

const gone = given(...incised, ...specimenGone);
const lump = gone.current.specimens.lump;
if (!lump) throw new Error('the story has a lump');
const sent = ['result', 'lump', `${lump.letter} ${lump.name}, ${lump.test}`];
const seen = resultSeenNote(lump, { by: 'Ensayo', how: 'nothing more to do' });

test('a specimen that was handed over is owed until its result is seen, and not before', () => {
  expect(owed(...specimenGone.slice(0, -1))).toEqual([]);
  expect(owed(...specimenGone)).toEqual([sent]);
  expect(owed(...specimenGone, seen)).toEqual([]);
});

test('a result that was said of the wrong specimen is owed again, and can be seen after all', () => {
  const withdrawn = resultWithdrawnNote(lump, { by: 'Testa', how: 'it was of another patient' });
  expect(withdrawn.text).toBe(
    `Result not seen for ${lump.letter} ${lump.name}: it was of another patient (Testa)`,
  );
  expect(owed(...specimenGone, seen, withdrawn)).toEqual([sent]);
  expect(owed(...specimenGone, seen, withdrawn, seen)).toEqual([]);
});

test('a note about something else settles nothing', () => {
  expect(owed(...specimenGone, note('Result seen for Z Other by Ensayo: fine'))).toEqual([sent]);
  expect(owed(...specimenGone, note(`The result of ${lump.letter} ${lump.name}`))).toEqual([sent]);
});

test('it says since when, who is to look, and with whom it went', () => {
  const [one] = owedAfter(gone.current);
  expect(one).toMatchObject({
    since: gone.current.specimens.lump?.handedAt,
    who: 'Ensayo',
    plan: 'with porter',
  });
});

const packs: readonly Done[] = [
  { type: 'add', line: 'large-swab', packs: [5] },
  { type: 'move', line: 'large-swab', from: 'table', to: 'patient/abdomen', n: 4 },
  { type: 'explain', line: 'large-swab', n: 4, reason: 'packing', where: 'liver', by: ['surgeon'] },
];

test('packing is owed, number first, until as many pieces are noted as taken out', () => {
  const { current } = given(...incised, ...packs);
  const line = current.lines.get('large-swab');
  const name = line?.name ?? '';
  const out = (n: number): Done =>
    line ? removalNote(line, n, { by: 'Nuovo', how: 'in theatre' }) : note('no line');
  expect(owed(...packs)).toEqual([['removal', 'large-swab', `4 ${name}, liver`]]);
  expect(owed(...packs, out(3))).toEqual([['removal', 'large-swab', `1 ${name}, liver`]]);
  expect(owed(...packs, out(3), out(1))).toEqual([]);
  expect(owed(...packs, note(`Taken out later: 4 ${name}`))).toHaveLength(1);
  expect(owed(...packs, note(`Taken out later: 4 Other ${name} by Nuovo: x`))).toHaveLength(1);
});

test('to whom it was handed over, and the plan, stand beside it', () => {
  const plan = { type: 'handover', line: 'large-swab', to: 'ward', plan: 'out on day 2' } as const;
  const [one] = owedAfter(given(...incised, ...packs, plan).current);
  expect(one).toMatchObject({ who: 'ward', plan: 'out on day 2' });
  const [bare] = owedAfter(given(...incised, ...packs).current);
  expect(bare).toMatchObject({ who: 'Ensayo', plan: 'no plan was recorded' });
});

/** A case with packing left, and these notes. */
const { current: packed } = given(...incised, ...packs);
const largeLine = packed.lines.get('large-swab');
if (!largeLine) throw new Error('the story has large swabs');
const large = largeLine.name;
const noted = (...texts: readonly string[]) =>
  owedAfter({
    ...packed,
    notes: texts.map((text) => ({ text, by: 'Prueba', at: packed.lastAt })),
  }).map(({ words }) => words);
/** As it was written before notes said what they settle. */
const outNote = (n: number, how = 'in theatre') =>
  removalNote(largeLine, n, { by: 'Nuovo', how }).text;
const all = [`4 ${large}, liver`];

test.each<readonly [string, readonly string[], readonly string[]]>([
  ['all of it', [], [outNote(4)]],
  ['more than was left', [], [outNote(12)]],
  ['two notes of two', [], [outNote(2), outNote(2)]],
  ['a note of two lines', [], [outNote(4, 'on the ward\nat night')]],
  ['some of it', [`1 ${large}, liver`], [outNote(3)]],
  ['a number of a hundred and more', [], [outNote(120)]],
  ['a number that no entry can have', all, [outNote(1000)]],
  ['other words before it', all, [`Not yet. ${outNote(4)}`]],
  ['no number', all, [outNote(4).replace('4 ', '')]],
  ['words before the number', all, [outNote(4).replace('4 ', 'all 4 ')]],
  ['nobody named', all, [outNote(4).replace(' by ', ' for ')]],
  ['the pieces without its beginning', all, [`4 ${large} by Nuovo: in theatre`]],
  ['nothing after its beginning', all, ['Taken out later: ']],
  ['another beginning of the same length', all, [`Not taken out... ${outNote(4).slice(17)}`]],
])('pieces that were left are owed after a note that says %s', (_, words, notes) => {
  expect(noted(...notes)).toEqual(words);
});

const mark = (n: number, where?: string) => ({ n, at: `left ${n}`, ...(where && { where }) });
const leftAs = (left: typeof packed.left) =>
  owedAfter({ ...packed, left }).map(({ about, words, since }) => [about, words, since]);

test('what was left at several places is one sum, with each place once, since the first', () => {
  const sets = [mark(1, 'liver'), mark(2, 'pelvis'), mark(3, 'liver')];
  expect(leftAs({ 'large-swab': sets })).toEqual([
    ['large-swab', `6 ${large}, liver, pelvis`, 'left 1'],
  ]);
});

test('where nobody said a place none is named', () => {
  expect(leftAs({ 'large-swab': [mark(2)] })).toEqual([['large-swab', `2 ${large}`, 'left 2']]);
});

test('what came out again, what stays for good and what is on no sheet is not owed', () => {
  expect(leftAs({ 'large-swab': [], ligature: [mark(1)], mop: [mark(1)] })).toEqual([]);
});

const sentOff = (change: Partial<typeof lump>, ...notes: readonly string[]) =>
  owedAfter({
    ...gone.current,
    lastAt: 'last',
    specimens: { lump: { ...lump, ...change } },
    notes: notes.map((text) => ({ text, by: 'Prueba', at: 'then' })),
  });

test('a specimen of an older record, without when and to whom, is owed since its last entry', () => {
  const { handedAt: _at, handedTo: _to, ...bare } = lump;
  const [one] = owedAfter({ ...gone.current, lastAt: 'last', specimens: { lump: bare } });
  expect(one).toMatchObject({ since: 'last', plan: 'with nobody named' });
});

test('no result is owed of what was never taken or is still here', () => {
  expect(sentOff({ stage: 'notTaken' })).toEqual([]);
  expect(sentOff({ stage: 'readBack' })).toEqual([]);
  expect(sentOff({ stage: 'handedOver' })).toHaveLength(1);
});

test('the last note about a result decides, and only one that begins with it', () => {
  const { text: is } = resultSeenNote(lump, { by: 'Ensayo', how: 'fine' });
  const { text: not } = resultWithdrawnNote(lump, {
    by: 'Testa',
    how: 'of another patient',
  });
  expect(sentOff({}, is)).toEqual([]);
  expect(sentOff({}, is, 'Something else')).toEqual([]);
  expect(sentOff({}, is, not)).toHaveLength(1);
  expect(sentOff({}, is, `Not so: ${not}`)).toEqual([]);
  expect(sentOff({}, `Nobody has written: ${is}`)).toHaveLength(1);
  expect(sentOff({}, not, is)).toEqual([]);
});

const german = {
  'Result seen for {0} {1} by ': 'Befund gesehen zu {0} {1} von ',
  'Taken out later: ': 'Später entfernt: ',
  '{0}{1} {2} by {3}: {4}': '{0}{1} {2} durch {3}: {4}',
};

test('what a note settles is settled whatever language was spoken then, and is now', () => {
  const result = inGerman(german, () =>
    resultSeenNote(lump, { by: 'Ensayo', how: 'nichts weiter' }),
  );
  const out = inGerman(german, () => removalNote(largeLine, 4, { by: 'Nuovo', how: 'im Saal' }));
  expect(result.text).toMatch(/^Befund gesehen/);
  expect(out.text).toMatch(/^Später entfernt/);
  expect(owed(...specimenGone, result)).toEqual([]);
  expect(owed(...packs, out)).toEqual([]);
  expect(inGerman(german, () => owed(...specimenGone, seen))).toEqual([]);
});

test('a note settles what it names, and nothing that its words sound like', () => {
  const story = given(...incised, ...specimenGone, ...packs);
  const owedThen = (done: Done) =>
    owedAfter(story.when(done).accepted().current).map(({ about }) => about);
  expect(owedThen({ ...seen, text: 'seen' })).toEqual(['large-swab']);
  const out = removalNote(largeLine, 4, { by: 'Nuovo', how: 'in theatre' });
  expect(out.text).toBe(`Taken out later: 4 ${large} by Nuovo: in theatre`);
  expect(owedThen(out)).toEqual(['lump']);
  expect(owedThen({ ...out, n: 3 })).toEqual(['lump', 'large-swab']);
  expect(owedThen({ ...out, about: 'swab' })).toEqual(['lump', 'large-swab']);
  expect(owedThen({ ...seen, settles: 'result-not-seen' })).toEqual(['lump', 'large-swab']);
});

test('a note about another specimen, or about pieces, says nothing of a result', () => {
  const is = { ...resultSeenNote(lump, { by: 'Ensayo', how: 'fine' }), by: 'Prueba', at: 'then' };
  const still = (...notes: typeof gone.current.notes) =>
    owedAfter({ ...gone.current, notes }).map(({ about }) => about);
  expect(still(is)).toEqual([]);
  expect(still({ ...is, about: 'other' })).toEqual(['lump']);
  expect(still({ ...is, settles: 'taken-out' })).toEqual(['lump']);
  expect(still(is, { ...is, settles: 'result-not-seen', about: 'other' })).toEqual([]);
  expect(still(is, { ...is, settles: 'taken-out' })).toEqual([]);
});

test.each([
  ['unknown-specimen', { settles: 'result-seen', about: 'mop' }],
  ['unknown-specimen', { settles: 'result-not-seen' }],
  ['unknown-line', { settles: 'taken-out', about: 'mop', n: 1 }],
  ['not-a-quantity', { settles: 'taken-out', about: 'large-swab' }],
  ['not-a-quantity', { settles: 'taken-out', about: 'large-swab', n: 0 }],
  ['malformed', { settles: 'all', about: 'lump' }],
] as const)('a note is refused as %s: %o', (code, said) => {
  // Not what the type allows: it comes from outside.
  const wrong = { type: 'note', text: 'settled', ...said } as Done;
  given(...incised, ...packs)
    .when(wrong)
    .refused(code);
});

test('pieces said to be out by mistake are owed again, and can be taken out after all', () => {
  const how = { by: 'Nuovo', how: 'in theatre' };
  const out = (n: number) => removalNote(largeLine, n, how);
  const not = (n: number) =>
    removalWithdrawnNote(largeLine, n, { by: 'Testa', how: 'another bed' });
  expect(not(3).text).toBe(`Not taken out: 3 ${large}: another bed (Testa)`);
  expect(owed(...packs, out(4), not(4))).toEqual([['removal', 'large-swab', all[0]]]);
  expect(owed(...packs, out(4), not(1))).toEqual([['removal', 'large-swab', `1 ${large}, liver`]]);
  expect(owed(...packs, out(9), not(4))).toEqual([['removal', 'large-swab', all[0]]]);
  expect(owed(...packs, out(4), not(4), out(4))).toEqual([]);
});

test('no more can be said not to be out than was said to be out', () => {
  const story = given(...incised, ...packs, removalNote(largeLine, 2, { by: 'N', how: 'x' }));
  const not = (n: number) => removalWithdrawnNote(largeLine, n, { by: 'Testa', how: 'x' });
  story.when(not(3)).refused('not-enough', large);
  story.when(not(2)).accepted();
});

const settled = (...done: readonly Done[]) =>
  settledAfter(given(...incised, ...done).current).map(({ kind, about, words, n, text }) => [
    kind,
    about,
    words,
    n,
    text,
  ]);

test('what notes have settled is listed with the note that did it last, until it is said not to be so', () => {
  const out = removalNote(largeLine, 3, { by: 'Nuovo', how: 'in theatre' });
  const more = removalNote(largeLine, 1, { by: 'Nuovo', how: 'later' });
  const not = removalWithdrawnNote(largeLine, 4, { by: 'Testa', how: 'another bed' });
  const result = ['result', 'lump', sent[2], 1, seen.text];
  expect(settled(...specimenGone, ...packs)).toEqual([]);
  expect(settled(...specimenGone, ...packs, seen, out, more)).toEqual([
    result,
    ['removal', 'large-swab', `4 ${large}`, 4, more.text],
  ]);
  expect(settled(...specimenGone, ...packs, seen, out, more, not)).toEqual([result]);
  expect(settled(...packs, out, note('words about something else'))).toEqual([
    ['removal', 'large-swab', `3 ${large}`, 3, out.text],
  ]);
  const withdrawn = resultWithdrawnNote(lump, { by: 'Testa', how: 'another patient' });
  expect(settled(...specimenGone, seen, withdrawn)).toEqual([]);
});

test('a note about a result takes no pieces out, whatever it is about', () => {
  const result = { text: 'seen', settles: 'result-seen', about: 'large-swab', n: 4 } as const;
  const notes = [{ ...result, by: 'Prueba', at: 'then' }];
  expect(owedAfter({ ...packed, notes }).map(({ words }) => words)).toEqual(all);
});

test('a note about a result that was written too early settles nothing', () => {
  expect(settled(...specimenGone.slice(0, -1), seen)).toEqual([]);
});

test('what notes say of a line that does not stay settles nothing', () => {
  const current = { ...packed, left: { mop: [mark(1)] } };
  expect(settledAfter(current)).toEqual([]);
});

const step = (name: DiscrepancyStep): Done => ({
  type: 'discrepancy',
  line: 'needle',
  step: name,
  skip: 'no time',
  by: 'surgeon',
});
/** One needle too few, declared, its film put off for an unstable patient. */
const declaredUnfilmed: readonly Done[] = [
  ...incised,
  count('closing', { needle: { field: 1 } }),
  recount({ needle: { field: 1 } }),
  ...discrepancySteps.map(step),
  { type: 'declare', line: 'needle', n: 1, reason: 'not found', by: ['surgeon', 'scrub'] },
  wait(30),
  { type: 'deferXray', reason: 'unstable', by: ['surgeon', 'anaesthetist'] },
  wait(30),
  note('a word later'),
];
const { current: declaredAndLeft } = givenOn(namedSheet, ...declaredUnfilmed);

test('a film that was put off is owed after the case, first of all, until one of the whole field is read', () => {
  const [film] = owedAfter(declaredAndLeft);
  expect(film).toMatchObject({
    kind: 'film',
    about: 'xray',
    words: 'whole field, 1 The needle',
    who: 'Ensayo',
    plan: 'unstable',
    since: declaredAndLeft.deferral?.at,
  });
  expect(film?.since).not.toBe(declaredAndLeft.lastAt);
  const read = (wholeField: boolean): Done => ({
    type: 'xray',
    wholeField,
    result: 'nothing-seen',
    readBy: 'Radio',
  });
  const kinds = (...done: readonly Done[]) =>
    owedAfter(given(...declaredUnfilmed, ...done).current).map(({ kind }) => kind);
  expect(kinds(read(false))).toContain('film');
  expect(kinds(read(true))).not.toContain('film');
});

test('after a count that was waived the film is owed for that count', () => {
  const waived: Done = {
    type: 'waive',
    moment: 'first',
    reason: 'bleeding',
    by: ['surgeon', 'scrub'],
  };
  const [film] = owedAfter(given(waived).current);
  expect(film).toMatchObject({ words: 'whole field, first count', plan: 'no plan was recorded' });
});

test('what a search showed not to be there is not what the film is for', () => {
  const search = { line: 'faecolith', n: 1, site: 'abdomen' } as const;
  const [film] = owedAfter(
    given(
      ...declaredUnfilmed,
      { type: 'carriedIn', ...search, from: 'imaging' },
      { type: 'searchedNone', ...search, reason: 'not felt' },
    ).current,
  );
  expect(film).toMatchObject({ words: 'whole field, 1 needle' });
});

test('a list says of a case how it ended, what it owes and what was settled', () => {
  const { current } = given(...incised, ...specimenGone, ...packs, seen);
  const { verdict, owed: owes, settled: done } = outcomeOf(current);
  expect(verdict).toBe('open');
  expect(owes.map(({ about }) => about)).toEqual(['large-swab']);
  expect(done.map(({ about }) => about)).toEqual(['lump']);
});
