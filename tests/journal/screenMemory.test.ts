import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { expect, test } from 'vitest';
import { openDatabase } from '#journal/database.ts';
import { openScreenMemory } from '#journal/screenMemory.ts';

const storeIn = (factory: IDBFactory) => openDatabase('test', factory).useStore('meta');

test('What the screen remembers is there at the next start, the last value of each key', async () => {
  const factory = new IDBFactory();
  const memory = await openScreenMemory(storeIn(factory));
  expect(memory.read('route')).toBeUndefined();
  memory.write('route', 'opening');
  memory.write('lights', 'down');
  memory.write('route', 'case');
  expect(memory.read('route')).toBe('case');
  const again = await openScreenMemory(storeIn(factory));
  expect(again.read('route')).toBe('case');
  expect(again.read('lights')).toBe('down');
});

test('Where the database does not work, it remembers until the window is closed', async () => {
  const broken = async () => {
    throw new DOMException('no', 'UnknownError');
  };
  const memory = await openScreenMemory(broken);
  expect(memory.read('route')).toBeUndefined();
  memory.write('route', 'case');
  expect(memory.read('route')).toBe('case');
});
