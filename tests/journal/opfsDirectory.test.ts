import { expect, test } from 'vitest';
import { opfsDirectory } from '#journal/opfsDirectory.ts';

/** The part of an origin private file system that the journal uses. It can be thrown away, as browsers do. */
function pretendStorage() {
  let isGone = false;
  let opened = 0;

  function folder() {
    const names = new Set<string>();
    let isMine = true;
    const look = (): void => {
      if (isGone) isMine = false;
      isGone = false;
      if (!isMine) throw new DOMException('Not there any more', 'NotFoundError');
    };
    return {
      keys: async function* () {
        look();
        yield* names;
      },
      getFileHandle: async (name: string) => {
        look();
        names.add(name);
        return { createSyncAccessHandle: async () => ({ name }) };
      },
      removeEntry: async (name: string) => {
        look();
        names.delete(name);
      },
    };
  }

  const getDirectory = async () => {
    opened += 1;
    return { getDirectoryHandle: async () => folder() };
  };
  return {
    // The directory uses nothing else of the browser's storage.
    storage: Object.assign(Object.create(null), { getDirectory }),
    throwAway: () => {
      isGone = true;
    },
    opened: () => opened,
  };
}

test('A folder that the browser threw away while the program runs is made again', async () => {
  const { storage, throwAway, opened } = pretendStorage();
  const directory = opfsDirectory(storage);
  await directory.open('case-1.log');
  await directory.open('case-2.log');
  expect(await directory.names()).toEqual(['case-1.log', 'case-2.log']);
  expect(opened()).toBe(1);
  throwAway();
  expect(await directory.open('case-1.log')).toMatchObject({ name: 'case-1.log' });
  expect(await directory.names()).toEqual(['case-1.log']);
  expect(opened()).toBe(2);
});

test('What the browser refuses twice is heard of, and asked for again the next time', async () => {
  let isRefusing = true;
  const { storage } = pretendStorage();
  const directory = opfsDirectory({
    getDirectory: async () => {
      if (isRefusing) throw new DOMException('No room', 'UnknownError');
      return storage.getDirectory();
    },
  });
  await expect(directory.names()).rejects.toThrow('No room');
  isRefusing = false;
  expect(await directory.names()).toEqual([]);
});
