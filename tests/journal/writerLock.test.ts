import { expect, test } from 'vitest';
import { type Locks, makeWriterLock } from '#journal/writerLock.ts';

/** The locks of one browser, for all its windows. A lock becomes free only some time later. */
function browserLocks(): Locks {
  const held = new Set<string>();
  return {
    request: async (name, _, callback) => {
      await Promise.resolve();
      if (held.has(name)) return callback(null);
      held.add(name);
      await callback({ name });
      await new Promise((resolve) => setTimeout(resolve, 1));
      held.delete(name);
    },
  };
}

const channel = () => new BroadcastChannel('test-written');

test('the first window writes a case, the second only reads it', async () => {
  const locks = browserLocks();
  const [first, second] = [makeWriterLock(locks, channel()), makeWriterLock(locks, channel())];
  expect(await first.claim('case-1')).toBe('writer');
  expect(await second.claim('case-1')).toBe('reader');
  expect(await second.claim('case-2')).toBe('writer');
  expect(await first.claim('case-1')).toBe('writer');
  first.close();
  second.close();
});

test('a window that lets go can take the case again, and so can the other', async () => {
  const locks = browserLocks();
  const [first, second] = [makeWriterLock(locks, channel()), makeWriterLock(locks, channel())];
  await first.claim('case-1');
  first.release();
  expect(await first.claim('case-1')).toBe('writer');
  await first.claim('case-2');
  await expect.poll(() => second.claim('case-1')).toBe('writer');
  first.close();
  second.close();
});

test('without locks, or where they fail, nobody writes', async () => {
  const failing: Locks = { request: () => Promise.reject(new DOMException('No', 'SecurityError')) };
  const [first, second] = [
    makeWriterLock(failing, channel()),
    makeWriterLock(undefined, channel()),
  ];
  expect(await first.claim('case-1')).toBe('reader');
  first.close();
  second.close();
});

test('a window hears of the rows that another wrote', async () => {
  const [first, second] = [
    makeWriterLock(browserLocks(), channel()),
    makeWriterLock(browserLocks(), channel()),
  ];
  const heard = new Promise((resolve) =>
    second.onWritten((caseId, seq) => resolve(`${caseId} ${seq}`)),
  );
  first.wrote('case-1', 7);
  expect(await heard).toBe('case-1 7');
  first.close();
  second.close();
});

/** The locks of one browser where a lock can be taken from whoever has it. */
function stealableLocks(): Locks {
  const held = new Map<string, () => void>();
  return {
    request: async (name, options, callback) => {
      await Promise.resolve();
      if (!('steal' in options) && held.has(name)) return callback(null);
      held.get(name)?.();
      await new Promise<void>((resolve, reject) => {
        const lose = () => reject(new DOMException('Stolen', 'AbortError'));
        held.set(name, lose);
        void callback({ name }).then(() => {
          if (held.get(name) === lose) held.delete(name);
          resolve();
        });
      });
    },
  };
}

test('a lock can be taken over, and the window that had it is told which case', async () => {
  const locks = stealableLocks();
  const [first, second] = [makeWriterLock(locks, channel()), makeWriterLock(locks, channel())];
  const lost: string[] = [];
  first.onLost((caseId) => lost.push(caseId));
  expect(await first.claim('case-1')).toBe('writer');
  expect(await second.claim('case-1')).toBe('reader');
  expect(await second.claim('case-1', 'take-over')).toBe('writer');
  await expect.poll(() => lost).toEqual(['case-1']);
  expect(await first.claim('case-1')).toBe('reader');
  first.close();
  second.close();
});

test('a window that lets go by itself is not told that it lost anything', async () => {
  const first = makeWriterLock(stealableLocks(), channel());
  const lost: string[] = [];
  first.onLost((caseId) => lost.push(caseId));
  await first.claim('case-1');
  first.release();
  await first.claim('case-1');
  first.close();
  await new Promise((resolve) => setTimeout(resolve, 10));
  expect(lost).toEqual([]);
});
