import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { answerRequest, type FileQuestion } from '#journal/fileRequest.ts';
import { fileStore } from '#journal/fileStore.ts';
import type { KeepingHome } from '#journal/keeper.ts';
import type { Journal } from '#journal/openJournal.ts';
import { openTabletJournal } from '#journal/openTabletJournal.ts';
import { draft } from '../support/drafts.ts';
import { memoryDirectory } from '../support/memoryDirectory.ts';

/** The files behind the worker. Those that throw cannot be used. */
let files: KeepingHome;
const told: string[] = [];

class WorkerHere extends EventTarget {
  terminate(): void {}
  postMessage({ number, request }: FileQuestion): void {
    void answerRequest(Promise.resolve(files), request).then((answer) =>
      this.dispatchEvent(new MessageEvent('message', { data: { number, answer } })),
    );
  }
}

const storage = {
  getDirectory: () => undefined,
  persist: async () => true,
  persisted: async () => true,
};

beforeEach(() => {
  files = fileStore(memoryDirectory());
  told.length = 0;
  vi.stubGlobal('isSecureContext', true);
  vi.stubGlobal('indexedDB', new IDBFactory());
  vi.stubGlobal('navigator', { storage });
  vi.stubGlobal('Worker', WorkerHere);
  vi.stubGlobal('addEventListener', (type: string) => told.push(type));
  vi.spyOn(console, 'warn').mockImplementation((sentence) => void told.push(sentence));
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

async function opened(): Promise<Journal> {
  const answer = await openTabletJournal();
  if (!answer.ok) throw new Error(answer.failure.code);
  return answer.journal;
}

test('A browser that has both keeps every row in a database and in a file', async () => {
  const journal = await opened();
  expect(await journal.health()).toEqual({
    persisted: true,
    homes: ['database', 'file'],
    reports: [],
  });
  await journal.append('case-1', draft(1));
  expect(await files.readAll('case-1')).toMatchObject({ texts: [expect.stringContaining('swab')] });
  expect(told).toEqual(['pagehide']);
});

test('A database that was thrown away between two starts is restored from the file', async () => {
  await (await opened()).append('case-1', draft(1));
  vi.stubGlobal('indexedDB', new IDBFactory());
  const journal = await opened();
  expect(await journal.listCases()).toMatchObject({ cases: [{ caseId: 'case-1', rows: 1 }] });
  expect(await journal.readCase('case-1')).toMatchObject({
    rows: [{ id: 'command-1' }],
    reports: [{ code: 'home-restored', home: 'database' }],
  });
});

test('A browser without files works with one home, and says so', async () => {
  vi.stubGlobal('navigator', {
    storage: { persist: storage.persist, persisted: storage.persisted },
  });
  expect(await (await opened()).health()).toMatchObject({
    homes: ['database'],
    reports: [{ code: 'one-home' }],
  });
});

test('A browser that tells nothing of its storage works with one home too', async () => {
  vi.stubGlobal('navigator', {});
  expect(await (await opened()).health()).toMatchObject({
    persisted: undefined,
    homes: ['database'],
    reports: [{ code: 'one-home' }],
  });
});

test('A home that cannot be opened is left out, and that is said too', async () => {
  files = fileStore(memoryDirectory(() => 'throws'));
  const journal = await opened();
  expect(await journal.health()).toMatchObject({
    homes: ['database'],
    reports: [{ code: 'one-home' }, { code: 'home-left-out', home: 'file' }],
  });
  expect(told).toContain('The file cannot be used');
  expect(await journal.append('case-1', draft(1))).toMatchObject({ ok: true });
});

test('A trouble that passes while the tablet starts leaves no home out', async () => {
  files = fileStore(memoryDirectory((call) => (call <= 3 ? 'throws' : undefined)));
  const { open } = IDBFactory.prototype;
  let refused = 0;
  vi.spyOn(IDBFactory.prototype, 'open').mockImplementation(function (this: IDBFactory, ...asked) {
    refused += 1;
    if (refused <= 2) throw new DOMException('Not now', 'UnknownError');
    return open.apply(this, asked);
  });
  const journal = await opened();
  expect(await journal.health()).toMatchObject({ homes: ['database', 'file'], reports: [] });
  await journal.append('case-1', draft(1));
  expect(await files.readAll('case-1')).toMatchObject({ texts: [expect.stringContaining('swab')] });
});

test('A browser that deletes all that is kept while the program runs costs no entry', async () => {
  const folder = memoryDirectory();
  files = fileStore(folder);
  const journal = await opened();
  await journal.append('case-1', draft(1));
  await journal.append('case-1', draft(2));
  folder.files.clear();
  await new Promise((resolve, reject) => {
    const gone = indexedDB.deleteDatabase('lastlook');
    gone.onsuccess = resolve;
    gone.onerror = reject;
  });
  expect(await journal.append('case-1', draft(3))).toMatchObject({ ok: true });
  const again = await opened();
  expect(await again.listCases()).toMatchObject({ cases: [{ caseId: 'case-1', rows: 3 }] });
  expect(await again.readCase('case-1')).toMatchObject({ reports: [] });
  expect(await files.readAll('case-1')).toMatchObject({ texts: { length: 3 }, damaged: false });
});

test('A browser that threw the database away says so, and the screen hears of it', async () => {
  const { open } = IDBFactory.prototype;
  vi.spyOn(IDBFactory.prototype, 'open').mockImplementation(function (this: IDBFactory, ...asked) {
    const request = open.apply(this, asked);
    request.addEventListener('upgradeneeded', (event) =>
      Object.defineProperty(event, 'dataLoss', { value: 'total' }),
    );
    return request;
  });
  expect(await (await opened()).health()).toMatchObject({ reports: [{ code: 'database-wiped' }] });
});

test('Without a secure page, or without any home, nothing is opened', async () => {
  vi.stubGlobal('isSecureContext', false);
  expect(await openTabletJournal()).toMatchObject({ failure: { code: 'no-secure-page' } });
  vi.stubGlobal('isSecureContext', true);
  files = fileStore(memoryDirectory(() => 'throws'));
  vi.spyOn(IDBFactory.prototype, 'open').mockImplementation(() => {
    throw new DOMException('Not here', 'SecurityError');
  });
  expect(await openTabletJournal()).toMatchObject({ failure: { code: 'no-home' } });
});

test('A database that never answers is left out after ten seconds and a bit, not after all its tries', async () => {
  vi.useFakeTimers();
  try {
    vi.stubGlobal('indexedDB', { open: () => new EventTarget() });
    const journal = opened();
    await vi.advanceTimersByTimeAsync(13_000);
    const ready = await Promise.race([journal, Promise.resolve('not yet')]);
    if (typeof ready === 'string') throw new Error(ready);
    expect((await ready.health()).homes).toEqual(['file']);
  } finally {
    vi.useRealTimers();
  }
});
