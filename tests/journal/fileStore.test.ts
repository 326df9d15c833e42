import { describe, expect, test, vi } from 'vitest';
import { type FileWorker, fileHome } from '#journal/fileHome.ts';
import { answerRequest, type FileRequest } from '#journal/fileRequest.ts';
import { fileStore } from '#journal/fileStore.ts';
import type { KeepingHome } from '#journal/keeper.ts';
import { encodeRecord } from '#journal/records.ts';
import { type MemoryDirectory, memoryDirectory } from '../support/memoryDirectory.ts';

const row = (seq: number, text = `row ${seq}`) => ({ caseId: 'case-1', seq, text });

function opened(files?: MemoryDirectory['files'], idleMs = 500) {
  const directory = memoryDirectory(undefined, files);
  return { directory, store: fileStore(directory, idleMs) };
}

/** Another window on the same disk, while the first has let go of its files. */
async function reopened(directory: MemoryDirectory): Promise<KeepingHome> {
  directory.cutPower(1);
  return opened(directory.files).store;
}

describe('The file of a case', () => {
  test('has each row on disk when it is acknowledged', async () => {
    const { directory, store } = opened();
    for (const seq of [1, 2, 3]) {
      expect(await store.append(row(seq))).toEqual({ ok: true });
      const whole = Buffer.concat(
        Array.from({ length: seq }, (_, index) => encodeRecord(row(index + 1).text)),
      );
      expect(Buffer.from(directory.files.get('case-1.log')?.onDisk ?? [])).toEqual(whole);
    }
    expect(await (await reopened(directory)).readAll('case-1')).toEqual({
      ok: true,
      texts: ['row 1', 'row 2', 'row 3'],
      damaged: false,
    });
  });

  test('takes the same row twice, another in its place never, and no gap', async () => {
    const { store } = opened();
    await store.append(row(1));
    await store.append(row(2));
    expect(await store.append(row(2))).toEqual({ ok: true });
    expect(await store.append(row(1))).toEqual({ ok: true });
    expect(await store.append(row(2, 'other'))).toMatchObject({ failure: { code: 'home-taken' } });
    expect(await store.append(row(4))).toMatchObject({ failure: { code: 'home-gap' } });
    expect(await store.readAll('case-1')).toMatchObject({ texts: ['row 1', 'row 2'] });
  });

  test('with a damaged end takes nothing before it was put right', async () => {
    const { directory, store } = opened();
    await store.append(row(1));
    await store.append(row(2));
    const file = directory.files.get('case-1.log');
    if (file) file.onDisk = file.now = file.now.slice(0, -1);
    const anew = await reopened(directory);
    expect(await anew.readAll('case-1')).toMatchObject({ texts: ['row 1'], damaged: true });
    expect(await anew.append(row(2))).toMatchObject({ failure: { code: 'home-gap' } });
    expect(await anew.reseed('case-1', ['row 1', 'row 2'], 1)).toEqual({ ok: true });
    expect(await anew.readAll('case-1')).toMatchObject({
      texts: ['row 1', 'row 2'],
      damaged: false,
    });
  });

  test('keeps aside, on disk, what a reseeding cuts off', async () => {
    const { directory, store } = opened();
    for (const seq of [1, 2, 3]) await store.append(row(seq));
    await store.reseed('case-1', ['row 1', 'new 2'], 3);
    await store.reseed('case-1', ['row 1'], 2);
    const aside = (place: number) =>
      Buffer.from(directory.files.get(`case-1.aside-${place}`)?.onDisk ?? []);
    expect(aside(1)).toEqual(Buffer.concat([encodeRecord('row 2'), encodeRecord('row 3')]));
    expect(aside(2)).toEqual(Buffer.from(encodeRecord('new 2')));
    expect(await store.readAside('case-1')).toEqual({
      ok: true,
      texts: ['row 2', 'row 3', 'new 2'],
      damaged: false,
    });
    expect(await store.readAll('case-1')).toMatchObject({ texts: ['row 1'], damaged: false });
    expect(await store.list()).toEqual({ ok: true, cases: [{ caseId: 'case-1' }] });
  });

  test('is not reseeded if another window wrote since it was read', async () => {
    const { store } = opened();
    await store.append(row(1));
    await store.append(row(2));
    expect(await store.reseed('case-1', ['row 1'], 1)).toMatchObject({
      failure: { code: 'home-changed' },
    });
    expect(await store.readAll('case-1')).toMatchObject({ texts: ['row 1', 'row 2'] });
  });

  test('has no torn record after a write that the disk cut short', async () => {
    let writes = 0;
    const directory = memoryDirectory((_, verb) => {
      if (verb === 'write') writes += 1;
      return verb === 'write' && writes === 2 ? 'writes-half' : undefined;
    });
    const store = fileStore(directory);
    await store.append(row(1));
    await expect(store.append(row(2))).rejects.toThrow('Wrote');
    expect(Buffer.from(directory.files.get('case-1.log')?.onDisk ?? [])).toEqual(
      Buffer.from(encodeRecord('row 1')),
    );
    expect(await store.append(row(2))).toEqual({ ok: true });
  });
});

describe('The file of a case, written to in other ways,', () => {
  test('takes many rows at once, and sets nothing aside when none is lost', async () => {
    const { directory, store } = opened();
    await store.append(row(1));
    const texts = ['row 1', 'row 2', 'row 3', 'row 4'];
    expect(await store.reseed('case-1', texts, 1)).toEqual({ ok: true });
    expect(await store.readAll('case-1')).toEqual({ ok: true, texts, damaged: false });
    expect([...directory.files.keys()]).toEqual(['case-1.log']);
    expect(await store.append(row(5))).toEqual({ ok: true });
  });

  test('writes a row once more that stands there without being known to be on disk', async () => {
    let isFull = true;
    const directory = memoryDirectory((_, verb) =>
      isFull && (verb === 'flush' || verb === 'truncate') ? 'throws' : undefined,
    );
    const store = fileStore(directory);
    await expect(store.append(row(1))).rejects.toThrow('No space left');
    isFull = false;
    expect(await store.append(row(1))).toEqual({ ok: true });
    expect(await store.append(row(2))).toEqual({ ok: true });
    directory.cutPower(0);
    expect(await opened(directory.files).store.readAll('case-1')).toEqual({
      ok: true,
      texts: ['row 1', 'row 2'],
      damaged: false,
    });
  });

  test('is not used when it cannot be read whole', async () => {
    const { directory } = opened();
    const short = async (name: string) => ({ ...(await directory.open(name)), read: () => 0 });
    directory.files.set('case-1.log', {
      now: encodeRecord('row 1'),
      onDisk: encodeRecord('row 1'),
      isOpen: false,
    });
    const store = fileStore({ ...directory, open: short });
    await expect(store.append(row(2))).rejects.toThrow('Read 0 of 13');
    expect(directory.files.get('case-1.log')?.isOpen).toBe(false);
  });

  test('is let go of when nothing is written for a while, so that another window may write', async () => {
    const { directory, store } = opened(undefined, 5);
    await store.append(row(1));
    expect(directory.files.get('case-1.log')?.isOpen).toBe(true);
    await expect.poll(() => directory.files.get('case-1.log')?.isOpen).toBe(false);
    expect(await store.append(row(2))).toEqual({ ok: true });
  });
});

describe('The file of a case, opened again after a while,', () => {
  /** How many bytes of files were read, from now on. */
  function counting(files?: MemoryDirectory['files']) {
    const directory = memoryDirectory(undefined, files);
    const counted = { bytes: 0 };
    const open = async (name: string) => {
      const file = await directory.open(name);
      const read: typeof file.read = (bytes, options) => {
        counted.bytes += bytes.length;
        return file.read(bytes, options);
      };
      return { ...file, read };
    };
    return { directory, counted, store: fileStore({ ...directory, open }, 5) };
  }
  const isOpen = ({ files }: MemoryDirectory) => files.get('case-1.log')?.isOpen;
  const closed = (directory: MemoryDirectory) => expect.poll(() => isOpen(directory)).toBe(false);

  test('is not read whole for the next entry', async () => {
    const { directory, counted, store } = counting();
    for (const seq of [1, 2, 3, 4]) await store.append(row(seq));
    await closed(directory);
    expect(counted.bytes).toBe(0);
    expect(await store.append(row(5))).toEqual({ ok: true });
    expect(counted.bytes).toBe(encodeRecord('row 4').length);
    expect(await store.readAll('case-1')).toMatchObject({
      texts: ['row 1', 'row 2', 'row 3', 'row 4', 'row 5'],
      damaged: false,
    });
  });

  test('is read whole where another window made it longer, or wrote another end', async () => {
    const { directory, store } = counting();
    for (const seq of [1, 2]) await store.append(row(seq));
    await closed(directory);
    const other = counting(directory.files);
    await other.store.append(row(3));
    await closed(directory);
    expect(await store.append(row(3, 'other'))).toMatchObject({ failure: { code: 'home-taken' } });
    await closed(directory);
    await other.store.reseed('case-1', ['row 1', 'row 2', 'row x'], 3);
    await closed(directory);
    expect(await store.append(row(3))).toMatchObject({ failure: { code: 'home-taken' } });
    expect(await store.append(row(3, 'row x'))).toEqual({ ok: true });
  });

  test('is read whole after anything was thrown', async () => {
    let isFull = false;
    const files: MemoryDirectory['files'] = new Map();
    const directory = memoryDirectory(
      (_, verb) => (isFull && verb === 'flush' ? 'throws' : undefined),
      files,
    );
    const store = fileStore(directory, 5);
    await store.append(row(1));
    isFull = true;
    await expect(store.append(row(2))).rejects.toThrow('No space left');
    isFull = false;
    const file = files.get('case-1.log');
    // What the disk made of it in the end.
    if (file) file.now = file.onDisk = encodeRecord('row 1');
    expect(await store.append(row(2))).toEqual({ ok: true });
    expect(await store.readAll('case-1')).toMatchObject({ texts: ['row 1', 'row 2'] });
  });

  test('two cases stay open beside each other', async () => {
    const { directory, store } = opened();
    await store.append(row(1));
    await store.append({ ...row(1), caseId: 'tablet-book' });
    expect(isOpen(directory)).toBe(true);
    expect(directory.files.get('tablet-book.log')?.isOpen).toBe(true);
    await store.close();
    expect([...directory.files.values()].some((file) => file.isOpen)).toBe(false);
  });
});

/** A worker that runs here. `breaks` is asked for each request whether the worker dies of it. */
function worker(
  store: KeepingHome,
  breaks: (request: FileRequest) => boolean = () => false,
): FileWorker {
  const events = new EventTarget();
  return {
    addEventListener: (type: string, listener: (event: never) => void) =>
      events.addEventListener(type, (event) => Reflect.apply(listener, undefined, [event])),
    terminate: () => undefined,
    postMessage: ({ number, request }) => {
      if (breaks(request)) events.dispatchEvent(new Event('error'));
      else
        void answerRequest(Promise.resolve(store), request).then((answer) =>
          events.dispatchEvent(new MessageEvent('message', { data: { number, answer } })),
        );
    },
  };
}

describe('Through the worker', () => {
  test('every question gets its own answer', async () => {
    const home = fileHome(() => worker(opened().store));
    const answers = await Promise.all([
      home.append(row(1)),
      home.append(row(3)),
      home.readAll('case-1'),
      home.reseed('case-1', ['new 1'], 1),
      home.list(),
    ]);
    expect(answers).toMatchObject([
      { ok: true },
      { ok: false, failure: { code: 'home-gap' } },
      { ok: true, texts: ['row 1'] },
      { ok: true },
      { ok: true, cases: [{ caseId: 'case-1' }] },
    ]);
    await home.close();
  });

  test('what the browser throws comes back as a failure', async () => {
    const home = fileHome(() => worker(fileStore(memoryDirectory(() => 'throws'))));
    expect(await home.append(row(1))).toMatchObject({
      ok: false,
      failure: { code: 'home-failed', detail: 'QuotaExceededError: No space left' },
    });
  });

  test('a worker that breaks is replaced, and those who waited hear of it', async () => {
    const { store } = opened();
    let started = 0;
    const home = fileHome(() => {
      started += 1;
      return worker(store, ({ verb }) => started === 1 && verb === 'append');
    });
    expect(await home.append(row(1))).toMatchObject({ failure: { code: 'home-failed' } });
    expect(await home.append(row(1))).toEqual({ ok: true });
    expect(started).toBe(2);
  });

  test('a worker that does not answer for a long time is replaced too', async () => {
    const { store } = opened();
    const [first, second] = [worker(store), worker(store)];
    const terminated = vi.fn();
    const silent = { ...first, postMessage: () => undefined, terminate: terminated };
    const workers = [silent, second];
    const home = fileHome(() => workers.shift() ?? second, 20);
    const waiting = home.append(row(1));
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(await home.append(row(1))).toEqual({ ok: true });
    expect(await waiting).toMatchObject({ failure: { code: 'home-failed' } });
    expect(terminated).toHaveBeenCalledOnce();
  });

  test('what was set aside can be asked for', async () => {
    const home = fileHome(() => worker(opened().store));
    await home.append(row(1));
    await home.reseed('case-1', ['new 1'], 1);
    expect(await home.readAside('case-1')).toMatchObject({ ok: true, texts: ['row 1'] });
  });
});
