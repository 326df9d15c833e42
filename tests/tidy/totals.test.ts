import { expect, test } from 'vitest';
import { ended, totalsOfDrills, totalsOfPlaywright, totalsOfVitest } from '../totals.ts';

test('totals are read from what each test program reports', () => {
  expect(totalsOfVitest({ numPassedTests: 7, numFailedTests: 2 })).toEqual({
    passed: 7,
    failed: 2,
  });
  expect(totalsOfPlaywright({ stats: { expected: 4, unexpected: 1, flaky: 1 } })).toEqual({
    passed: 4,
    failed: 2,
  });
  expect(totalsOfDrills('a: passed\n1 passed, 0 failed\nmore\n3 passed, 1 failed\n')).toEqual({
    passed: 3,
    failed: 1,
  });
});

test('a report that is missing or not understood is a failure', () => {
  for (const nothing of [undefined, null, {}, { numPassedTests: '7' }, 'x'])
    expect(ended(0, totalsOfVitest(nothing))).toEqual({ passed: 0, failed: 1 });
  expect(ended(0, totalsOfPlaywright({ stats: {} }))).toEqual({ passed: 0, failed: 1 });
  expect(ended(0, totalsOfDrills('nothing ran'))).toEqual({ passed: 0, failed: 1 });
});

test('a program that ends badly is a failure although every test passed', () => {
  expect(ended(1, { passed: 5, failed: 0 })).toEqual({ passed: 5, failed: 1 });
  expect(ended(1, { passed: 5, failed: 2 })).toEqual({ passed: 5, failed: 2 });
  expect(ended(0, { passed: 5, failed: 0 })).toEqual({ passed: 5, failed: 0 });
});
