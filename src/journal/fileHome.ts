import { type Failed, fail } from './failures.ts';
import type { FileAnswer, FileQuestion, FileRequest } from './fileRequest.ts';
import type { KeepingHome } from './keeper.ts';

/** What is needed of a worker. */
export type FileWorker = {
  postMessage: (asked: FileQuestion) => void;
  addEventListener: {
    (type: 'error' | 'messageerror', listener: () => void): void;
    (type: 'message', listener: (event: { readonly data: FileAnswer }) => void): void;
  };
  terminate: () => void;
};

/** The worker of this program. Files can be written safely, and at once, only there. */
export const startOpfsWorker = (): FileWorker =>
  new Worker(new URL('./opfsWorker.ts', import.meta.url), { type: 'module' });

type Waiting = { readonly answer: (given: FileAnswer['answer']) => void; readonly since: number };

/** Longer than the worker takes for the largest import on a slow tablet. */
const stuckAfterMs = 120_000;

/**
 * Keeps rows in files of the origin private file system, through a worker. A worker that broke, or
 * has not answered an earlier call for a long time, is replaced at the next call.
 */
export function fileHome(start: () => FileWorker, stuckMs = stuckAfterMs): KeepingHome {
  const name = 'file';
  let worker: FileWorker | undefined;
  let asked = 0;
  /** How to answer those who wait, by the number of their question, and since when they do. */
  const waiting = new Map<number, Waiting>();

  function giveUp(): void {
    worker?.terminate();
    worker = undefined;
    for (const { answer } of waiting.values())
      answer(fail('home-failed', { home: name, detail: 'worker' }));
    waiting.clear();
  }

  function running(): FileWorker {
    const longAgo = performance.now() - stuckMs;
    if ([...waiting.values()].some(({ since }) => since < longAgo)) giveUp();
    if (worker) return worker;
    worker = start();
    worker.addEventListener('error', giveUp);
    worker.addEventListener('messageerror', giveUp);
    worker.addEventListener('message', ({ data }) => {
      waiting.get(data.number)?.answer(data.answer);
      waiting.delete(data.number);
    });
    return worker;
  }

  function call<T extends { readonly ok: true }>(request: FileRequest): Promise<T | Failed> {
    const asking = running();
    asked += 1;
    const number = asked;
    return new Promise((resolve, reject) => {
      // The worker answers each kind of request with what belongs to it.
      const answer = (given: FileAnswer['answer']) => resolve(given as T | Failed);
      waiting.set(number, { answer, since: performance.now() });
      try {
        asking.postMessage({ number, request });
      } catch (error) {
        waiting.delete(number);
        reject(error);
      }
    });
  }

  async function close(): Promise<void> {
    if (!worker) return;
    await call({ verb: 'close' });
    giveUp();
  }

  return {
    name,
    append: (row) => call({ verb: 'append', row }),
    readAll: (caseId) => call({ verb: 'readAll', caseId }),
    readAside: (caseId) => call({ verb: 'readAside', caseId }),
    list: () => call({ verb: 'list' }),
    reseed: (caseId, texts, found) => call({ verb: 'reseed', caseId, texts, found }),
    close,
    readNotes: () => call({ verb: 'readNotes' }),
    putNote: (name, text) => call({ verb: 'putNote', name, text }),
    dropNote: (name) => call({ verb: 'dropNote', name }),
    remove: (caseId) => call({ verb: 'remove', caseId }),
  };
}
