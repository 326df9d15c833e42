import { expect, test } from 'vitest';
import {
  owedAfter,
  removalNote,
  resultSeenNote,
  resultWithdrawnNote,
} from '#engine/case/owedAfter.ts';
import type { Done } from '../support/given.ts';
import { given, incised, specimenGone } from '../support/given.ts';

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
const seen = note(resultSeenNote(lump, 'Ensayo', 'nothing more to do'));

test('a specimen that was handed over is owed until its result is seen, and not before', () => {
  expect(owed(...specimenGone.slice(0, -1))).toEqual([]);
  expect(owed(...specimenGone)).toEqual([sent]);
  expect(owed(...specimenGone, seen)).toEqual([]);
});

test('a result that was said of the wrong specimen is owed again, and can be seen after all', () => {
  const withdrawn = note(resultWithdrawnNote(lump, 'it was of another patient'));
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
  const name = current.lines.get('large-swab')?.name ?? '';
  const out = (n: number) => note(removalNote(name, n, { by: 'Nuovo', how: 'in theatre' }));
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
