import { expect, test } from 'vitest';
import { Fault } from '#engine/assert.ts';
import {
  emptyLedger,
  type Ledger,
  openLine,
  type Posting,
  post,
  rowOf,
  transfer,
} from '#engine/ledger.ts';

/** Faults of the ledger: each says which line and place, so that a bug of ours can be found. */

const ledger = emptyLedger(['swab', 'needle'], ['abdomen']);
const entry: readonly Posting[] = transfer('mop', 'supply', 'table', 1);

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
  const torn: Ledger = { sites: [], index: new Map([['mop', 3]]), blocks };
  expect(() => rowOf(torn, 'mop')).toThrow('mop has no row');
  expect(() => post(torn, entry)).toThrow(/^mop /);
});

test('[L1] a line is opened once: a known one is left as it is', () => {
  expect(openLine(ledger, 'swab')).toBe(ledger);
  expect(openLine(ledger, 'mop').index.get('mop')).toBe(2);
});

test('[L1] an entry that does not sum to zero names its line', () => {
  const lost: readonly Posting[] = [{ line: 'needle', place: 'off', by: 1 }];
  expect(() => post(ledger, lost)).toThrow('the entry on needle does not sum to zero');
});

test('[L2] a place below zero is named with its line', () => {
  expect(() => post(ledger, transfer('swab', 'table', 'off', 1))).toThrow(
    'swab falls below zero at table',
  );
});

test('[L2] a site that the case does not have is a fault', () => {
  expect(() => post(ledger, transfer('swab', 'supply', 'patient/knee', 1))).toThrow(
    'patient/knee is not a site of this case',
  );
});

test('[L1] a line that was never opened is a fault in an empty ledger too', () => {
  expect(() => post(emptyLedger([], []), entry)).toThrow('mop is not in the ledger');
});
