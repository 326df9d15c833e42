import { expect, test } from 'vitest';
import type { RunningCount } from '#engine/countState.ts';
import { foundIn, seenOf } from '#engine/counts/foundIn.ts';

const entered = (line: string, field: number, before: RunningCount['entered']) => ({
  line,
  seen: { field, off: 0 },
  before,
});
const first = entered('swab', 5, undefined);
const second = entered('needle', 2, first);
const third = entered('swab', 4, second);
const running: Pick<RunningCount, 'entered'> = { entered: third };

test('what was seen last of a line counts, and a line that nobody entered has nothing', () => {
  // Only what was entered is looked at.
  const count = running as RunningCount;
  expect(seenOf(count, 'swab')).toEqual({ field: 4, off: 0 });
  expect(seenOf(count, 'needle')).toEqual({ field: 2, off: 0 });
  expect(seenOf(count, 'blade')).toBeUndefined();
  expect(seenOf({ ...count, entered: undefined }, 'swab')).toBeUndefined();
});

test('the lines of a count stand in the order in which they were first entered', () => {
  // Only what was entered is looked at.
  const count = running as RunningCount;
  expect(Object.entries(foundIn(count))).toEqual([
    ['swab', { field: 4, off: 0 }],
    ['needle', { field: 2, off: 0 }],
  ]);
});
