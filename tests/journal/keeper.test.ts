import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { bookId } from '#journal/collect.ts';
import { openDatabase } from '#journal/database.ts';
import { databaseHome } from '#journal/databaseHome.ts';
import { databaseKeeper } from '#journal/databaseKeeper.ts';
import { exportText } from '#journal/exportFile.ts';
import { fileStore } from '#journal/fileStore.ts';
import { type KeepingHome, openNotes } from '#journal/keeper.ts';
import { openKeyPlace } from '#journal/keyPlace.ts';
import { openJournal } from '#journal/openJournal.ts';
import { openScreenMemory } from '#journal/screenMemory.ts';
import { quick, recordEntries } from '../support/acknowledged.ts';
import { draft } from '../support/drafts.ts';
import { memoryDirectory } from '../support/memoryDirectory.ts';

function makeHomes() {
  const database = openDatabase('lastlook', new IDBFactory());
  const directory = memoryDirectory();
  const homes: readonly [KeepingHome, KeepingHome] = [
    { ...databaseHome(database), ...databaseKeeper(database) },
    fileStore(directory),
  ];
  return { database, directory, homes };
}

const notesOf = async (home: KeepingHome) => {
  const held = await home.readNotes();
  return held.ok ? Object.fromEntries(held.notes) : held.failure.code;
};

function journalOf(homes: readonly KeepingHome[]) {
  const remove = async (name: string, caseId: string) =>
    homes.find((home) => home.name === name)?.remove(caseId) ?? ({ ok: true } as const);
  return openJournal({ homes, patience: quick, remove });
}

describe('Notes', () => {
  test('are kept in both homes, written over and taken away', async () => {
    const { homes } = makeHomes();
    const notes = await openNotes(homes);
    expect(await notes.put('key-case-1', 'a')).toEqual({ ok: true });
    await notes.put('key-case-1', 'bb');
    await notes.put('tries', '{}');
    for (const home of homes)
      expect(await notesOf(home)).toEqual({ 'key-case-1': 'bb', tries: '{}' });
    await notes.drop('tries');
    await notes.drop('never there');
    for (const home of homes) expect(await notesOf(home)).toEqual({ 'key-case-1': 'bb' });
    const again = await openNotes(homes);
    expect([again.names(), again.get('key-case-1'), again.get('tries')]).toEqual([
      ['key-case-1'],
      'bb',
      undefined,
    ]);
  });

  test('that one home lost come back from the other; where they differ the first is right', async () => {
    const { homes } = makeHomes();
    const [database, file] = homes;
    await file.putNote('only in the file', 'f');
    await file.putNote('both', 'old');
    await database.putNote('both', 'new');
    const notes = await openNotes(homes);
    expect(notes.get('only in the file')).toBe('f');
    expect(notes.get('both')).toBe('new');
    for (const home of homes)
      expect(await notesOf(home)).toEqual({ 'only in the file': 'f', both: 'new' });
  });

  test('are on disk when they are acknowledged', async () => {
    const { homes, directory } = makeHomes();
    const notes = await openNotes(homes);
    await notes.put('loose-case-1', 'abc');
    directory.cutPower(0);
    expect(await notesOf(fileStore(directory))).toEqual({ 'loose-case-1': 'abc' });
  });

  test('say so when a home fails, and are in the other all the same', async () => {
    const { homes, directory } = makeHomes();
    const broken = fileStore(
      memoryDirectory((_, verb) => (verb === 'write' ? 'throws' : undefined), directory.files),
    );
    const notes = await openNotes([homes[0], broken]);
    expect(await notes.put('key', 'a')).toMatchObject({ failure: { code: 'home-failed' } });
    expect(await notesOf(homes[0])).toEqual({ key: 'a' });
  });

  test('cut while they are written over are as ones that are not there', async () => {
    const { homes, directory } = makeHomes();
    const notes = await openNotes(homes);
    await notes.put('tries', 'abcdefgh');
    const file = directory.files.get('tries.note');
    if (file) file.now = file.now.slice(0, -3);
    expect(await notesOf(homes[1])).toEqual({});
    expect((await openNotes(homes)).get('tries')).toBe('abcdefgh');
    expect(await notesOf(homes[1])).toEqual({ tries: 'abcdefgh' });
  });

  test('that another window wrote are found when they are looked for again', async () => {
    const { homes } = makeHomes();
    const here = await openNotes(homes);
    const there = await openNotes(homes);
    await there.put('loose-case-1', 'a');
    await there.put('loose-case-2', 'b');
    expect(here.get('loose-case-1')).toBeUndefined();
    await here.refresh();
    expect(here.get('loose-case-1')).toBe('a');
    await there.drop('loose-case-1');
    await here.refresh();
    expect(here.names()).toEqual(['loose-case-2']);
    const looking = here.refresh();
    await here.put('loose-case-3', 'c'); // asked for while it looks
    await looking;
    expect(here.get('loose-case-3')).toBe('c');
  });

  test('do not mix with the memory of screens', async () => {
    const { homes, database } = makeHomes();
    const memory = await openScreenMemory(database.useStore('meta'));
    memory.write('lastlook-lights', 'down');
    await homes[0].putNote('lastlook-lights', 'x');
    expect(await notesOf(homes[0])).toEqual({ 'lastlook-lights': 'x' });
    const again = await openScreenMemory(database.useStore('meta'));
    expect(again.read('lastlook-lights')).toBe('down');
  });
});

describe('The removal of a case', () => {
  test('takes its rows and what was set aside out of both homes, and nothing else', async () => {
    const { homes, directory } = makeHomes();
    const journal = journalOf(homes);
    await recordEntries(journal, 3);
    await recordEntries(journal, 2, 'case-2');
    for (const home of homes)
      for (const caseId of ['case-1', 'case-2'])
        await home.reseed(caseId, [], caseId === 'case-1' ? 3 : 2);
    await recordEntries(journalOf(homes), 1, 'case-2');
    for (const home of homes)
      expect(await home.readAside('case-1')).toMatchObject({ texts: [{}, {}, {}] });

    expect(await journal.removeCase('case-1')).toEqual({ ok: true });
    for (const home of homes) {
      expect(await home.readAll('case-1')).toMatchObject({ texts: [] });
      expect(await home.readAside('case-1')).toMatchObject({ texts: [] });
      expect(await home.readAside('case-2')).toMatchObject({ texts: [{}, {}] });
      expect(await home.readAll('case-2')).toMatchObject({ texts: [{}] });
    }
    expect([...directory.files.keys()].filter((name) => name.startsWith('case-1'))).toEqual([]);
    const listed = await journal.listCases();
    expect(listed.ok && listed.cases.map(({ caseId }) => caseId)).toEqual(['case-2']);
  });

  test('is not undone by what the journal had in mind', async () => {
    const { homes } = makeHomes();
    const journal = journalOf(homes);
    await recordEntries(journal, 3);
    await journal.removeCase('case-1');
    expect(await journal.readCase('case-1')).toMatchObject({ ok: true, rows: [] });
    for (const home of homes) expect(await home.readAll('case-1')).toMatchObject({ texts: [] });
  });

  test('says so when a home fails; the case is listed still', async () => {
    const { homes, directory } = makeHomes();
    await recordEntries(journalOf(homes), 3);
    directory.cutPower(1);
    const broken = fileStore(
      memoryDirectory((_, verb) => (verb === 'remove' ? 'throws' : undefined), directory.files),
    );
    const journal = journalOf([homes[0], broken]);
    expect(await journal.removeCase('case-1')).toMatchObject({ failure: { code: 'home-failed' } });
    const listed = await journal.listCases();
    expect(listed.ok && listed.cases.map(({ caseId }) => caseId)).toEqual(['case-1']);
  });

  test('what is set aside later never takes the place of what is there', async () => {
    const { homes } = makeHomes();
    const [database] = homes;
    for (const caseId of ['case-1', 'case-2', 'case-3']) {
      await database.append({ caseId, seq: 1, text: caseId });
      if (caseId !== 'case-3') await database.reseed(caseId, [], 1);
    }
    await database.remove('case-1');
    expect(await database.reseed('case-3', [], 1)).toEqual({ ok: true });
    expect(await database.readAside('case-2')).toMatchObject({ texts: ['case-2'] });
    expect(await database.readAside('case-3')).toMatchObject({ texts: ['case-3'] });
  });
});

test('The book of the tablet is kept as a case is, and is not among the cases', async () => {
  const { homes } = makeHomes();
  const journal = journalOf(homes);
  await journal.append(bookId, draft(1));
  await recordEntries(journal, 1);
  const listed = await journal.listCases();
  expect(listed.ok && listed.cases.map(({ caseId }) => caseId)).toEqual(['case-1']);
  expect(await journal.readCase(bookId)).toMatchObject({ rows: [{ seq: 1 }] });
  expect(await journal.exportCase(bookId)).toMatchObject({ failure: { code: 'unknown-case' } });
  expect(await journal.removeCase(bookId)).toMatchObject({ failure: { code: 'unknown-case' } });
  const other = journalOf(makeHomes().homes);
  await other.append(bookId, draft(1));
  const read = await other.readCase(bookId);
  if (!read.ok) throw new Error(read.failure.code);
  expect(await journal.importCase(exportText(read.rows, read.texts))).toMatchObject({
    failure: { code: 'file-foreign' },
  });
});

test('The own key of the tablet comes back as a key that gives nothing out', async () => {
  const factory = new IDBFactory();
  const place = openKeyPlace(openDatabase('lastlook', factory));
  expect(await place.get()).toBeUndefined();
  const key = await crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, false, [
    'encrypt',
    'decrypt',
  ]);
  expect(await place.put(key)).toEqual({ ok: true });
  const again = await openKeyPlace(openDatabase('lastlook', factory)).get();
  expect(again?.extractable).toBe(false);
  await expect(crypto.subtle.exportKey('raw', again ?? key)).rejects.toThrow();
  const iv = new Uint8Array(12);
  const sealed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv }, key, new Uint8Array(3));
  const opened = await crypto.subtle.decrypt({ name: 'AES-GCM', iv }, again ?? key, sealed);
  expect(opened.byteLength).toBe(3);
});
