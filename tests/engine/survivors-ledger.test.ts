import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import {
  at,
  emptyLedger,
  type Ledger,
  openLine,
  ownLedger,
  type Posting,
  post,
  rowOf,
  sharedLedger,
  transfer,
} from '#engine/ledger.ts';
import type { Place } from '#engine/places.ts';

/** Faults of the ledger: each says which line and place, so that a bug of ours can be found. */

const ledger = emptyLedger(['swab', 'needle'], ['abdomen']);
const entry: readonly Posting[] = transfer('mop', 'supply', 'table', 1);

/** `toThrow` takes undefined for any error. */
function thrownBy(work: () => unknown): unknown {
  try {
    return work();
  } catch (error) {
    return error;
  }
}

test('[L1] a line that was never opened is a fault, to read and to post', () => {
  expect(() => rowOf(ledger, 'mop')).toThrow(Fault);
  expect(() => rowOf(ledger, 'mop')).toThrow('mop is not in the ledger');
  expect(() => post(ledger, entry)).toThrow(Fault);
  expect(() => post(ledger, entry)).toThrow('mop is not in the ledger');
});

test.each<readonly [string, Ledger['blocks']]>([
  ['block', []],
  ['row', [[]]],
])('[L1] a line whose %s is lost is a fault, to read and to post', (_, blocks) => {
  const torn: Ledger = { ...ledger, layout: { ...ledger.layout, index: { mop: 3 } }, blocks };
  const lost = new Fault('line 3 of the ledger has no row');
  expect(thrownBy(() => rowOf(torn, 'mop'))).toEqual(lost);
  expect(thrownBy(() => post(torn, entry))).toEqual(lost);
});

test('[L1] a line is opened once: a known one is left as it is', () => {
  expect(openLine(ledger, 'swab')).toBe(ledger);
  expect(openLine(ledger, 'mop').layout.index.mop).toBe(2);
});

test('[L1] an entry of nothing leaves the ledger as it is', () => {
  expect(post(ledger, [])).toBe(ledger);
});

test('[L1] an entry that does not sum to zero names its line', () => {
  const lost: readonly Posting[] = [{ line: 'needle', place: 'off', by: 1 }];
  expect(() => post(ledger, lost)).toThrow('the entry on needle does not sum to zero');
});

test.each<Place>(['table', 'off', 'stays', 'specimen', 'away', 'missing', 'patient/abdomen'])(
  '[L2] below zero at %s is a fault that names line and place',
  (place) => {
    expect(() => post(ledger, transfer('swab', place, 'supply', 1))).toThrow(
      `swab falls below zero at ${place}`,
    );
    const there = post(ledger, transfer('swab', 'supply', place, 1));
    expect(at(post(there, transfer('swab', place, 'supply', 1)), 'swab', place)).toBe(0);
  },
);

test.each(['garbage/abdomen', 'patient/'])(
  '[L1] %s is no site: nothing is posted to it',
  (place) => {
    // A damaged record does not keep to the type of a place.
    const strange = place as Place;
    expect(() => post(ledger, transfer('swab', 'supply', strange, 1))).toThrow(
      `${place} is not a site of this case`,
    );
  },
);

test('[L2] each line of an entry is looked at, not only the last', () => {
  const sound = transfer('needle', 'supply', 'table', 1);
  expect(() => post(ledger, [{ line: 'swab', place: 'table', by: 1 }, ...sound])).toThrow(
    'the entry on swab does not sum to zero',
  );
  expect(() => post(ledger, [...transfer('swab', 'off', 'table', 1), ...sound])).toThrow(
    'swab falls below zero at off',
  );
});

test('[L1] an entry on two lines by turns arrives on both', () => {
  const mixed: readonly Posting[] = [
    { line: 'swab', place: 'supply', by: -2 },
    { line: 'needle', place: 'supply', by: -1 },
    { line: 'swab', place: 'patient/abdomen', by: 2 },
    { line: 'needle', place: 'patient/abdomen', by: 1 },
  ];
  const after = post(ledger, mixed);
  expect(at(after, 'swab', 'patient/abdomen')).toBe(2);
  expect(at(after, 'needle', 'patient/abdomen')).toBe(1);
  expect(at(ledger, 'swab', 'patient/abdomen')).toBe(0);
});

test('[L1] a site whose name ends like another is another site', () => {
  const wounds = emptyLedger(['swab'], ['wound', 'flank-wound']);
  const after = post(wounds, transfer('swab', 'supply', 'patient/flank-wound', 1));
  expect(rowOf(after, 'swab').inside).toEqual([0, 1]);
  expect(at(after, 'swab', 'patient/wound')).toBe(0);
});

test('[L2] a site that the case does not have is a fault', () => {
  expect(() => post(ledger, transfer('swab', 'supply', 'patient/knee', 1))).toThrow(
    'patient/knee is not a site of this case',
  );
});

test('[L1] a line that was never opened is a fault in an empty ledger too', () => {
  expect(() => post(emptyLedger([], []), entry)).toThrow('mop is not in the ledger');
});

test('[L1] a ledger of its own is written into, also with a line more; what it was copied from is not', () => {
  const source = post(ledger, transfer('swab', 'supply', 'table', 5));
  const own = ownLedger(source);
  expect(post(own, transfer('swab', 'table', 'off', 2))).toBe(own);
  expect(rowOf(own, 'swab')).toMatchObject({ table: 3, off: 2 });
  expect(rowOf(source, 'swab')).toMatchObject({ table: 5, off: 0 });

  const wider = openLine(own, 'mop');
  expect(post(wider, transfer('mop', 'supply', 'table', 1))).toBe(wider);
  expect(rowOf(wider, 'swab')).toMatchObject({ table: 3, off: 2 });
  const before = sharedLedger(wider);
  const after = post(before, transfer('mop', 'table', 'off', 1));
  expect(rowOf(before, 'mop')).toMatchObject({ table: 1, off: 0 });
  expect(rowOf(after, 'mop')).toMatchObject({ table: 0, off: 1 });
});
