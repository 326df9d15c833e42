import { expect, test } from 'vitest';
import { entryWords } from '#engine/case/entryWords.ts';
import type { Command } from '#engine/case/events.ts';
import { lotOf, packsOf } from '#engine/moves/lotOf.ts';
import { type Done, given, incised } from '../support/given.ts';

/** What the code of a pack said, as the screen that scanned it writes it down. */
const one = 'ABC123, expires 2027-12-31; (01)09506000134352 (17)271231 (10)ABC123';
const other = 'DEF456, expires 2028-01-31; (01)09506000134352 (17)280131 (10)DEF456';

const add = (line: string, n: number, ...scanned: readonly string[]): Command => ({
  type: 'add',
  line,
  n,
  ...(scanned.length > 0 ? { scanned } : {}),
});
const into = (line: string, n = 1): Command => ({
  type: 'move',
  line,
  from: 'table',
  to: 'patient/abdomen',
  n,
});
const stays = (line: string, lot?: string): Command => ({
  type: 'move',
  line,
  from: 'patient/abdomen',
  to: 'stays',
  n: 1,
  ...(lot === undefined ? {} : { lot }),
});
const placed: Command = { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 };
const lotsLeft = (line: string, ...done: readonly Done[]) =>
  given(...incised, ...done).current.left[line]?.map(({ lot }) => lot);

test('[L15] an implant that stays carries the lot of the only pack that was opened', () => {
  expect(lotsLeft('implant', add('implant', 1, one), into('implant'), stays('implant'))).toEqual([
    one,
  ]);
});

test('[L15] so does what a piece turned into: the ligature has the lot of its loop', () => {
  expect(lotsLeft('ligature', add('loop', 1, one), into('loop'), placed)).toEqual([one]);
});

test('[L15] two packs that say the same are no doubt', () => {
  expect(lotsLeft('ligature', add('loop', 2, one, one), into('loop', 2), placed)).toEqual([one]);
});

test.each<readonly [string, readonly Command[]]>([
  ['two lots are on the table', [add('implant', 2, one, other)]],
  ['one of two was scanned', [add('implant', 2, one)]],
  ['another was added without a scan', [add('implant', 1, one), add('implant', 1)]],
  ['none was scanned', [add('implant', 1)]],
])('[L15] where %s, nothing says which it was', (_, adds) => {
  expect(lotsLeft('implant', ...adds, into('implant'), stays('implant'))).toEqual([undefined]);
});

test('[L15] what a person says goes before what was scanned', () => {
  expect(
    lotsLeft('implant', add('implant', 1, one), into('implant'), stays('implant', 'from the box')),
  ).toEqual(['from the box']);
});

test('[L15] a pack that held another number is set aside, and is nobody’s lot', () => {
  const { current } = given(...incised, {
    type: 'add',
    line: 'large-swab',
    packs: [5, 4],
    scanned: [one, one],
  });
  expect(lotOf(current, 'large-swab')).toBeUndefined();
  expect(packsOf(current, 'large-swab')).toHaveLength(1);
});

test('[L15] two whole packs of five that say the same are no doubt', () => {
  const { current } = given(...incised, {
    type: 'add',
    line: 'large-swab',
    packs: [5, 5],
    scanned: [one, one],
  });
  expect(lotOf(current, 'large-swab')).toBe(one);
});

test('[L15] the pack of another line says nothing of this one', () => {
  const { current } = given(...incised, add('implant', 1, one), add('loop', 1, other));
  expect(packsOf(current, 'implant').map(({ words }) => words)).toEqual([[one]]);
  expect(lotOf(current, 'implant')).toBe(one);
  expect(lotOf(current, 'loop')).toBe(other);
  expect(lotOf(current, 'ligature')).toBe(other);
});

test('[L15] one entry of which not each pack was scanned leaves a doubt about all', () => {
  expect(
    lotsLeft(
      'implant',
      add('implant', 2, one),
      add('implant', 1, one),
      into('implant'),
      stays('implant'),
    ),
  ).toEqual([undefined]);
});

test('[L12] a pack that is taken back is not known any more', () => {
  const { current } = given(...incised, add('implant', 1, one), { type: 'correct', last: 1 });
  expect(current.scanned).toEqual([]);
});

test('the record says what was scanned', () => {
  const story = given(...incised);
  const [event] = story.when(add('implant', 1, one)).events();
  if (!event) throw new Error('something was added');
  expect(entryWords(story.current, event).rest).toBe(`1 added to the field, scanned: ${one}`);
});

test.each([[[]], [['']], [Array.from({ length: 21 }, () => one)]])(
  'what cannot be the words of packs is refused: %#',
  (scanned) => {
    given(...incised)
      .when({ type: 'add', line: 'implant', n: 1, scanned })
      .refused('malformed', 'scanned');
  },
);

test('[K3] an answer says that the wristband was scanned beside it, and only then', () => {
  const begun = { type: 'beginCheckpoint', id: 'sign-in' } as const;
  const answer = {
    type: 'answer',
    checkpoint: 'sign-in',
    step: 'sterility',
    value: 'fine',
  } as const;
  const kept = (scanned: object) => {
    const [event] = given(begun)
      .when({ ...answer, ...scanned })
      .events();
    return event?.type === 'answered' && event.answer.kind === 'given' && event.answer.scanned;
  };
  expect(kept({ scanned: true })).toBe(true);
  expect(kept({ scanned: false })).toBeUndefined();
  expect(kept({})).toBeUndefined();
});
