import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import { at, emptyLedger, isBalanced, post, rowOf, transfer } from '#engine/ledger.ts';
import { count, given, incised } from '../support/given.ts';

const twoIn = { type: 'move', line: 'swab', from: 'table', to: 'patient/abdomen', n: 2 } as const;

test('[L1] a posting that does not arrive anywhere is a fault', () => {
  const ledger = emptyLedger(['swab'], ['abdomen']);
  const onTable = post(ledger, transfer('swab', 'supply', 'table', 5));
  expect(isBalanced(rowOf(onTable, 'swab'))).toBe(true);
  const lost = [{ line: 'swab', place: 'table', by: -1 }] as const;
  expect(() => post(onTable, lost)).toThrow(Fault);
});

test('[L1] the same total on another line does not balance an entry', () => {
  const ledger = emptyLedger(['swab', 'needle'], ['abdomen']);
  const crossed = [
    { line: 'swab', place: 'supply', by: -1 },
    { line: 'needle', place: 'table', by: 1 },
  ] as const;
  expect(() => post(ledger, crossed)).toThrow(Fault);
});

test('[L2] what leaves a place arrives at another', () => {
  const story = given(...incised)
    .when(twoIn)
    .records({ type: 'moved', line: 'swab', from: 'table', to: 'patient/abdomen', n: 2 });
  expect(story.balance('swab', 'table')).toBe(3);
  expect(story.balance('swab', 'patient/abdomen')).toBe(2);
});

test('[L2] no more can leave a place than lie there', () => {
  given(...incised)
    .when({ ...twoIn, n: 6 })
    .refused('not-enough');
  given(...incised)
    .when({ ...twoIn, n: 5 })
    .accepted();
});

test('[L2] a place below zero is a fault, but for supply and changed', () => {
  const ledger = emptyLedger(['swab'], ['abdomen']);
  expect(at(post(ledger, transfer('swab', 'supply', 'off', 3)), 'swab', 'supply')).toBe(-3);
  expect(() => post(ledger, transfer('swab', 'table', 'off', 1))).toThrow(Fault);
});

test.each([0, -1, 1.5, 1000, Number.NaN, Number.POSITIVE_INFINITY])(
  '[L2] %s is not a number of pieces',
  (n) => {
    given(...incised)
      .when({ ...twoIn, n })
      .refused('not-a-quantity');
  },
);

test('[L2] what is not known is refused before anything else', () => {
  const story = given(...incised);
  story.when({ ...twoIn, line: 'mop', n: 0 }).refused('unknown-line');
  story.when({ ...twoIn, to: 'patient/knee', n: 0 }).refused('unknown-place');
  story.when({ ...twoIn, to: 'patient' }).refused('unknown-place'); // there are three sites
  story.when({ ...twoIn, to: 'table' }).refused('same-place');
});

test('[L3] what is opened is on the table, with what it brings', () => {
  const story = given(...incised)
    .when({ type: 'add', line: 'reload', n: 2 })
    .records({ type: 'added', n: 2, seenBy: ['Testa', 'Prueba'] });
  expect(story.balance('reload', 'table')).toBe(2);
  expect(story.balance('shim', 'table')).toBe(2);
  expect(story.balance('shim', 'supply')).toBe(-2);
});

test('[L3] nothing is opened before the first count, and one name alone is said', () => {
  given().when({ type: 'add', line: 'loop', n: 1 }).refused('baseline-open');
  given(...incised)
    .when({ type: 'add', line: 'loop', n: 1, by: ['scrub'] })
    .warned('one-name');
  given(...incised)
    .when({ type: 'add', line: 'loop', n: 1, by: [] })
    .refused('name-missing');
});

test('[L4] a pack with a wrong number is set aside whole, the sound ones enter', () => {
  const story = given(...incised)
    .when({ type: 'add', line: 'swab', packs: [5, 4, 6] })
    .records({ type: 'added', n: 5, setAside: [4, 6] });
  expect(story.balance('swab', 'table')).toBe(10);
  given(...incised)
    .when({ type: 'add', line: 'swab', packs: [4] })
    .warned('pack-set-aside');
});

test('[L4] a pack with a wrong number at the first count never enters', () => {
  const story = given(count('first', { swab: { packs: [4] } }));
  expect(story.balance('swab', 'table')).toBe(0);
  expect(story.current.counts.setAside).toMatchObject([{ line: 'swab', pieces: 4 }]);
});

test('[L4] what comes in packs is opened in packs', () => {
  given(...incised)
    .when({ type: 'add', line: 'swab', n: 7 })
    .refused('packs-needed');
  given(...incised)
    .when({ type: 'add', line: 'swab', packs: [] })
    .refused('not-a-quantity');
  given(...incised)
    .when({ type: 'add', line: 'swab', packs: [0] })
    .refused('not-a-quantity');
});

test.each(['supply', 'changed', 'missing'])('[L5] a plain move does not touch %s', (place) => {
  given(...incised)
    .when({ ...twoIn, to: place })
    .refused('not-a-move');
  given(...incised)
    .when({ ...twoIn, from: place, to: 'table' })
    .refused('not-a-move');
});

test('[L5] what is away is with somebody', () => {
  const away = { type: 'move', line: 'needle', from: 'table', to: 'away', n: 1 } as const;
  given(...incised)
    .when(away)
    .refused('name-missing');
  const story = given(...incised)
    .when({ ...away, with: 'the baby' })
    .accepted();
  expect(story.current.away).toMatchObject([{ line: 'needle', n: 1, with: 'the baby' }]);
  const back = story.when({ ...away, from: 'away', to: 'table' }).accepted();
  expect(back.current.away).toEqual([]);
});

test('[L6] nothing is put into a cavity before the incision; an orifice is open', () => {
  const counted = given(count('first'));
  counted.when(twoIn).refused('before-incision');
  counted.when({ ...twoIn, to: 'patient/vagina' }).accepted();
});

test('[L12] the last entry is taken back by another', () => {
  const moved = given(...incised, twoIn);
  const back = moved.when({ type: 'correct', last: 1 }).records({ type: 'corrected' });
  expect(back.balance('swab', 'table')).toBe(5);
  expect(back.balance('swab', 'patient/abdomen')).toBe(0);
  expect(back.current.entry).toBe(moved.current.entry + 1);
});

test('[L12] a correction is not taken back, but the entry before it is', () => {
  const one = { ...twoIn, n: 1 } as const;
  const story = given(...incised, twoIn, one, { type: 'correct', last: 1 });
  expect(story.balance('swab', 'patient/abdomen')).toBe(2);
  const again = story.when({ type: 'correct', last: 1 }).accepted();
  expect(again.balance('swab', 'patient/abdomen')).toBe(0);
});

test('[L12] an entry that a later one stands on is not taken back', () => {
  const out = { ...twoIn, from: 'patient/abdomen', to: 'off', n: 2 } as const;
  const story = given(...incised, twoIn);
  const entry = story.current.entry;
  story.when(out).accepted().when({ type: 'correct', entry }).refused('entry-depended-on');
});

test('[L12] an agreed count is not taken back, nor what is not there', () => {
  const story = given(...incised, count('closing'));
  story.when({ type: 'correct', last: 1 }).refused('not-taken-back');
  story.when({ type: 'correct', entry: 999 }).refused('unknown-entry');
  const back = given(...incised, twoIn, { type: 'correct', last: 1 });
  back.when({ type: 'correct', entry: back.current.entry - 1 }).refused('already-corrected');
});

test('[L1] a row that does not sum to zero is told from one that does', () => {
  const row = {
    supply: -5,
    changed: 0,
    table: 4,
    off: 0,
    stays: 0,
    specimen: 0,
    away: 0,
    missing: 0,
  };
  expect(isBalanced({ ...row, inside: [1] })).toBe(true);
  expect(isBalanced({ ...row, inside: [] })).toBe(false);
  expect(isBalanced({ ...row, inside: [0, 2] })).toBe(false);
});
